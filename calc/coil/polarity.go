package coil

import (
	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// PolarityIn is how the coil is connected, and what was seen of its spark.
type PolarityIn struct {
	Earth               string `json:"earth" need:"yes" enum:"negative|positive" help:"which battery post is on the body"`
	Marks               string `json:"marks,omitempty" enum:"plus-minus|sw-cb|none" help:"what is stamped at the two small terminals; none unless said"`
	DistributorTerminal string `json:"distributorTerminal,omitempty" enum:"+|-|SW|CB|unknown" help:"which of them the wire to the distributor is on"`
	MadeForEarth        string `json:"madeForEarth,omitempty" enum:"negative|positive|unknown" help:"for a coil marked SW and CB: the earth it was made for"`
	Flare               string `json:"flare,omitempty" enum:"plug|lead|unknown" help:"a graphite point held between lead and plug: the side on which the spark flares"`
	DishedElectrode     string `json:"dishedElectrode,omitempty" enum:"earth|centre|unknown" help:"which electrode of worn plugs is dished"`
	KVNeedle            string `json:"kVNeedle,omitempty" enum:"up|backwards|unknown" help:"how the needle of an analogue kilovolt meter moves"`
}

// PolarityOut is which way round the spark is.
type PolarityOut struct {
	WantedDistributorTerminal string       `json:"wantedDistributorTerminal" help:"the terminal the distributor's wire belongs on; empty where no mark tells it"`
	WantedFeedTerminal        string       `json:"wantedFeedTerminal" help:"the terminal the feed belongs on; empty where no mark tells it"`
	WantedText                string       `json:"wantedText" help:"where the distributor's wire belongs, in a sentence"`
	CentreElectrode           string       `json:"centreElectrode" enum:"negative|positive|unknown" help:"the plug's centre electrode as it is; negative is right"`
	Polarity                  string       `json:"polarity" enum:"right|wrong|unknown" help:"for coil.sweep and spark.required"`
	Verdict                   string       `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word"`
	Summary                   string       `json:"summary" help:"the whole in one sentence"`
	Findings                  finding.List `json:"findings" help:"what is concluded"`
	Working                   []string     `json:"working" help:"the rule with this car's figures in it"`
	Sources                   []string     `json:"sources" help:"where the rule comes from"`
}

var polaritySources = []string{"centre electrode negative whatever the earth; terminal marks; 10 to 15 % or several kilovolts: a plug maker's text quoted on a forum",
	"needle backwards: a 1970 US maker's truck service manual", "flare on the plug side is right: from memory"}

// Polarity tells which way round the spark jumps. The plug's centre electrode
// has to be negative whatever the earth, because the hot electrode gives off
// electrons more readily: the distributor's wire belongs on the coil's "−" with
// negative earth and on its "+" with positive earth. SW and CB (switch,
// contact breaker) are right only on the earth the coil was made for. What was
// seen of the spark outweighs the marks. Refused: a terminal that is not among
// the marks. Sources: see PolarityOut.Sources.
func Polarity(in PolarityIn) (PolarityOut, error) {
	if bad := in.check(); bad != nil {
		return PolarityOut{}, bad
	}
	out := PolarityOut{Findings: finding.List{}, Sources: polaritySources}
	out.wanted(in)
	wired, seen := in.wired(out), in.seen()
	out.Working = append(out.Working, "By the terminals the spark is "+wired+", by what was seen of it "+seen+".")
	out.Polarity = wired
	if seen != "unknown" {
		out.Polarity = seen
	}
	out.CentreElectrode = map[string]string{"right": "negative", "wrong": "positive",
		"unknown": "unknown"}[out.Polarity]
	out.judge(in, wired, seen)
	return out, nil
}

func (in PolarityIn) check() *refuse.Error {
	t := in.DistributorTerminal
	bySign, byName := t == "+" || t == "-", t == "SW" || t == "CB"
	if in.Marks == "plus-minus" && byName || in.Marks == "sw-cb" && bySign || (in.Marks == "none" || in.Marks == "") &&
		(bySign || byName) {
		return refuse.Input("distributorTerminal", "the terminal "+t+" is not among the marks said to be on this coil",
			"one of the coil's own marks", "correct marks or distributorTerminal")
	}
	return nil
}

// wanted says where the distributor's wire belongs, as far as the marks tell.
func (out *PolarityOut) wanted(in PolarityIn) {
	made := in.MadeForEarth
	switch {
	case in.Marks == "plus-minus" && in.Earth == "positive":
		out.WantedDistributorTerminal, out.WantedFeedTerminal = "+", "-"
		out.WantedText = "With positive earth the distributor's wire belongs on the terminal marked +."
	case in.Marks == "plus-minus":
		out.WantedDistributorTerminal, out.WantedFeedTerminal = "-", "+"
		out.WantedText = "With negative earth the distributor's wire belongs on the terminal marked −."
	case in.Marks == "sw-cb" && (made == "" || made == "unknown"):
		out.WantedDistributorTerminal, out.WantedFeedTerminal = "CB", "SW"
		out.WantedText = "The distributor's wire belongs on CB if the coil was made for " + in.Earth +
			" earth, on SW if for " + other(in.Earth) + ": which, the spark tells."
	case in.Marks == "sw-cb" && made == in.Earth:
		out.WantedDistributorTerminal, out.WantedFeedTerminal = "CB", "SW"
		out.WantedText = "This coil was made for " + made +
			" earth, so the distributor's wire belongs on the terminal marked CB."
	case in.Marks == "sw-cb":
		out.WantedDistributorTerminal, out.WantedFeedTerminal = "SW", "CB"
		out.WantedText = "This coil was made for " + made + " earth, so on " + in.Earth +
			" earth the distributor's wire belongs on the terminal marked SW."
	case in.Marks == "none":
		out.WantedText = "Nothing is marked on the coil, so only the spark tells which terminal is the distributor's."
	default:
		out.WantedText = "What is stamped at the coil's terminals is not known yet: look there, or let the spark tell which is the distributor's."
	}
	out.Working = append(out.Working, out.WantedText)
}

func other(earth string) string {
	if earth == "positive" {
		return "negative"
	}
	return "positive"
}

// wired is what the terminals say.
func (in PolarityIn) wired(out PolarityOut) string {
	t := in.DistributorTerminal
	if t == "" || t == "unknown" || in.Marks == "sw-cb" && (in.MadeForEarth == "" || in.MadeForEarth == "unknown") {
		return "unknown"
	}
	if t == out.WantedDistributorTerminal {
		return "right"
	}
	return "wrong"
}

// seen is what the spark itself says; two observations against each other say
// nothing. A worn plug wears the electrode the ions strike: the earth one,
// dished, when the polarity was wrong.
func (in PolarityIn) seen() string {
	votes := 0
	for _, v := range []struct {
		value, right, wrong string
	}{{in.Flare, "plug", "lead"}, {in.DishedElectrode, "centre", "earth"}, {in.KVNeedle, "up", "backwards"}} {
		switch v.value {
		case v.right:
			votes++
		case v.wrong:
			votes--
		}
	}
	switch {
	case votes > 0:
		return "right"
	case votes < 0:
		return "wrong"
	}
	return "unknown"
}

func (out *PolarityOut) judge(in PolarityIn, wired, seen string) {
	line := out.Working[0]
	switch {
	case wired != "unknown" && seen != "unknown" && wired != seen:
		out.Verdict, out.Summary = "watch", "The terminals and the spark say different things."
		out.Findings.Add(finding.Finding{Verdict: finding.Watch, Code: "polarity-conflict", Title: out.Summary,
			Part: "coil", Sureness: "possible", Sources: polaritySources, Working: []string{line},
			Text: "The spark counts. The coil may be wound the other way round, or its marks or the earth of the car were mistaken (converted cars). Repeat the test of the spark; worn plugs still show how it was before."})
	case out.Polarity == "wrong":
		out.Verdict, out.Summary = "fail", "The spark jumps the wrong way round: swap the two small wires on the coil."
		out.Findings.Add(finding.Finding{Verdict: finding.Fail, Code: "polarity-wrong", Title: out.Summary,
			Part: "coil", Direction: "reversed", Sureness: map[bool]string{true: "sure",
				false: "likely"}[wired == "wrong" && seen == "wrong"], Sources: polaritySources,
			Working:     []string{line},
			Text:        "It costs 10 to 15 % or several kilovolts. After a change of earth or from 6 to 12 V it is nearly always so. It harms nothing else, and swapping the two wires cures it; a rev counter or a radio suppressor on one of them moves with its wire.",
			Caution:     "Ignition off before touching the coil's terminals.",
			DisprovedBy: "a graphite point between lead and plug flares on the plug's side"})
	case out.Polarity == "right":
		out.Verdict, out.Summary = "pass", "The plug's centre electrode is negative, as it should be."
	default:
		out.Verdict, out.Summary = "unknown", "Not known: look which terminal the distributor's wire is on, or hold a graphite point between lead and plug."
	}
}

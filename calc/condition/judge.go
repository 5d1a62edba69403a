package condition

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// Result is what came of one measure.
type Result struct {
	Measure string   `json:"measure" need:"yes" maxLen:"40" help:"name of the measure, from condition.list"`
	Value   *float64 `json:"value,omitempty" min:"-100000" max:"1000000" unit:"the measure's own" help:"the figure read"`
	Seen    string   `json:"seen,omitempty" enum:"good|doubtful|bad" help:"what the eye says, for a look"`
	Skipped string   `json:"skipped,omitempty" maxLen:"400" help:"why it was not done"`
	Own     *Limit   `json:"own,omitempty" help:"the car's own limit, which beats the general one"`
}

// JudgeIn is what was measured and seen.
type JudgeIn struct {
	Car     Car      `json:"car,omitempty" help:"what is known of the car"`
	Results []Result `json:"results" need:"yes" maxItems:"100" help:"one for each measure done or skipped"`
}

// Judged is one measure with its verdict.
type Judged struct {
	Measure   string `json:"measure" help:"name of the measure"`
	Check     string `json:"check" help:"B1 to B30"`
	Title     string `json:"title" help:"what was looked at"`
	Verdict   string `json:"verdict" enum:"pass|watch|fail|unknown" help:"against the limit; unknown when skipped or when there is no limit"`
	Text      string `json:"text" help:"the verdict in words with the figure in it"`
	LimitText string `json:"limitText" help:"the limit in words"`
	Source    string `json:"source" help:"where the limit comes from"`
	Own       bool   `json:"own" help:"true where the car's own limit was used"`
}

// JudgeOut is the state of the car before any setting.
type JudgeOut struct {
	Results  []Judged     `json:"results" help:"each result with its verdict, in the order given"`
	Findings finding.List `json:"findings" help:"fails, then watches, in the order that wastes least time"`
	Left     []string     `json:"left" help:"checks not done yet, in the order that wastes least time"`
	Skipped  []string     `json:"skipped" help:"measures skipped, each with its reason"`
	Verdict  string       `json:"verdict" enum:"pass|watch|fail|unknown" help:"the whole in one word; unknown while anything is not done and nothing is bad"`
	Summary  string       `json:"summary" help:"the whole in one sentence"`
	Working  []string     `json:"working" help:"how verdicts are made"`
	Sources  []string     `json:"sources" help:"where the limits come from"`
}

// Judge holds results against limits: pass inside, watch in the band beside
// it, fail beyond. The car's own limit replaces the general one. A figure that
// cannot be on this car is not judged and stays unknown. A check
// skipped with a reason stays unknown, and one not done is listed. Refused: a
// measure that is not in condition.list or is given twice; none or more than
// one of value, seen and skipped; a figure for a look or a look for a figure;
// an own limit upside down or without any end.
func Judge(in JudgeIn) (JudgeOut, error) {
	if bad := in.Car.check(); bad != nil {
		return JudgeOut{}, bad
	}
	checks := in.Car.checks()
	out := JudgeOut{Results: []Judged{}, Findings: finding.List{}, Left: []string{}, Skipped: []string{},
		Verdict: finding.Pass,
		Working: []string{"pass inside the limit, watch in the band beside it, fail beyond; the car's own limit beats the general one"},
		Sources: []string{"a source stands with each limit"}}
	done := map[string]Judged{}
	for i, r := range in.Results {
		j, bad := judgeOne(checks, r)
		if _, twice := done[r.Measure]; bad == nil && twice {
			bad = refuse.Input("measure", r.Measure+" is given twice", "each measure once", "keep the result you trust")
		}
		if bad != nil {
			return JudgeOut{}, bad.Under(fmt.Sprintf("results[%d]", i))
		}
		done[r.Measure] = j
		out.Results = append(out.Results, j)
		if r.Skipped != "" {
			out.Skipped = append(out.Skipped, r.Measure+": "+r.Skipped)
		}
	}
	out.gather(checks, done)
	return out, nil
}

func judgeOne(checks []Check, r Result) (Judged, *refuse.Error) {
	for _, k := range checks {
		for _, m := range k.Measures {
			if m.ID == r.Measure {
				if bad := r.check(m); bad != nil {
					return Judged{}, bad
				}
				return r.judge(k, m), nil
			}
		}
	}
	return Judged{}, refuse.Input("measure", fmt.Sprintf("%.40q is not a measure", r.Measure),
		"a name from condition.list, such as B15.capacity", "list them with condition.list")
}

func (r Result) check(m Measure) *refuse.Error {
	given := 0
	for _, g := range []bool{r.Value != nil, r.Seen != "", r.Skipped != ""} {
		if g {
			given++
		}
	}
	switch {
	case given != 1:
		return refuse.Input("value", fmt.Sprintf("%d of value, seen and skipped are given", given),
			"exactly one of them", "give the figure, what was seen, or why it was skipped")
	case r.Seen != "" && m.Kind == "figure":
		return refuse.Input("seen", m.ID+" is a figure in "+m.Unit, "value, or skipped",
			"give the figure read, or say why it was skipped")
	case r.Value != nil && m.Kind == "look":
		return refuse.Input("value", m.ID+" is a look and has no figure", "seen: good, doubtful or bad",
			"say what was seen, or why it was skipped")
	case r.Own != nil:
		return r.Own.check()
	}
	return nil
}

func (l Limit) check() *refuse.Error {
	if l.PassMin == nil && l.PassMax == nil {
		return refuse.Input("own", "this limit has no end", "at least one of passMin and passMax",
			"give the most or the least that passes")
	}
	chain := []*float64{l.WatchMin, l.PassMin, l.PassMax, l.WatchMax}
	var last *float64
	for _, x := range chain {
		if x != nil && last != nil && *x < *last {
			return refuse.Input("own", "the ends of this limit are not in order",
				"watchMin, passMin, passMax, watchMax, rising", "swap or correct them")
		}
		if x != nil {
			last = x
		}
	}
	return nil
}

func (r Result) judge(k Check, m Measure) Judged {
	j := Judged{Measure: m.ID, Check: k.ID, Title: k.Title + ": " + m.Title, Verdict: finding.Unknown,
		LimitText: m.Accept, Own: r.Own != nil}
	limit := m.Limit
	if r.Own != nil {
		limit = r.Own
		j.LimitText = limit.words(m.Unit)
	}
	if limit != nil {
		j.Source = limit.Source
		if j.Own && j.Source == "" {
			j.Source = "the car's own limit, source not said"
		}
	}
	switch {
	case r.Skipped != "":
		j.Text = "Not done: " + r.Skipped
	case r.Seen != "":
		j.Verdict = map[string]string{"good": finding.Pass, "doubtful": finding.Watch, "bad": finding.Fail}[r.Seen]
		j.Text = "Seen: " + r.Seen + "; right is: " + m.Accept + "."
	case !m.Possible.holds(*r.Value):
		j.Text = m.Possible.refuses(*r.Value, m.Unit)
	case limit == nil:
		j.Text = fmt.Sprintf("%.4g %s: no limit to hold it against. Give the car's own, or say whether it has a ballast.", *r.Value, m.Unit)
	default:
		j.Verdict = limit.verdict(*r.Value)
		j.Text = fmt.Sprintf("%.4g %s; %s.", *r.Value, m.Unit, j.LimitText)
	}
	return j
}

// gather turns the results into findings, what is left to do and a verdict.
func (out *JudgeOut) gather(checks []Check, done map[string]Judged) {
	for _, wanted := range []string{finding.Fail, finding.Watch} {
		for _, k := range checks {
			for _, m := range k.Measures {
				if j, given := done[m.ID]; given && j.Verdict == wanted {
					out.Findings.Add(foundBy(k, j))
					out.Verdict = finding.Worse(out.Verdict, wanted)
				}
			}
		}
	}
	for _, k := range checks {
		for _, m := range k.Measures {
			if _, given := done[m.ID]; !given {
				out.Left = append(out.Left, k.ID)
				break
			}
		}
	}
	out.sayAll()
}

func foundBy(k Check, j Judged) finding.Finding {
	title := "To be watched: " + k.Title
	if j.Verdict == finding.Fail {
		title = k.Title + " fails"
	}
	f := finding.Finding{Verdict: j.Verdict, Code: strings.ToLower(strings.ReplaceAll(j.Measure, ".", "-")) + "-" +
		j.Verdict, Title: title, Part: k.Title, Sureness: "likely", Text: k.FailText, Caution: k.Caution,
		DisprovedBy: "the same check repeated, inside the limit", Working: []string{j.Text}}
	if j.Source != "" {
		f.Sources = []string{j.Source}
	}
	return f
}

func (out *JudgeOut) sayAll() {
	unknown := len(out.Left) > 0 || len(out.Skipped) > 0
	for _, j := range out.Results {
		unknown = unknown || j.Verdict == finding.Unknown
	}
	switch {
	case out.Verdict == finding.Fail:
		out.Summary = "Not fit to be set yet: " + out.Findings[0].Title + ". No setting can cure that."
	case unknown:
		out.Summary = "Nothing bad so far; " + out.open() + "."
		if out.Verdict == finding.Pass {
			out.Verdict = finding.Unknown
		}
	case out.Verdict == finding.Watch:
		out.Summary = "Fit to be set; something is to be watched: " + out.Findings[0].Title + "."
	default:
		out.Summary = "Every check is passed: fit to be set."
	}
}

// open says what is still to be done, was skipped or could not be judged.
func (out *JudgeOut) open() string {
	unjudged := 0
	for _, j := range out.Results {
		if j.Verdict == finding.Unknown {
			unjudged++
		}
	}
	unjudged -= len(out.Skipped)
	var parts []string
	for _, p := range []struct {
		n         int
		one, many string
	}{
		{len(out.Left), "check is still to be done", "checks are still to be done"},
		{len(out.Skipped), "result was skipped", "results were skipped"},
		{unjudged, "figure could not be judged", "figures could not be judged"},
	} {
		if p.n > 0 {
			parts = append(parts, finding.Count(p.n, p.one, p.many))
		}
	}
	if len(parts) == 3 {
		return parts[0] + ", " + parts[1] + " and " + parts[2]
	}
	return strings.Join(parts, " and ")
}

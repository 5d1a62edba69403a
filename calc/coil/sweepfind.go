package coil

import (
	"fmt"
	"math"
	"strings"

	"pointsmith/calc/finding"
)

const (
	pointsUsual = 4.4 // amperes: 4 to 5 A is the normal current of points, US Army TM 9-8000
	pointsMost  = 5.0 // amperes: above this points burn, common practice
	sixUsual    = 4.9 // amperes: what 6 V sets live with, common practice (6.8 V on 1.4 Ω)
	// amperes on 6 V: the same 1.4 Ω at 7.4 V, the most a sound 6 V charge gives (common practice), carry 5.3; rounded
	// up, chosen
	sixMost       = 5.5
	tooLittle     = 3.3  // amperes, slow idle: below the usual 2.8 to 4 Ω on 13.8 V (common practice)
	batteryAtRest = 12.6 // volts of a sound 12 V battery that nothing charges: common practice
	stalledCare   = "Ignition on with the engine still: at most a minute or two. Switch off, pull the feed, or put a clean card between the points. %s hot enough to burn and to start a fire."
)

var sixSources = []string{"6 V sets live with about 4.9 A, 6.8 V on 1.4 Ω: common practice",
	"up to 5.5 A allowed on 6 V: chosen, the same ohms at 7.4 V, the top of a sound charge (common practice)"}

var currentSources = []string{"points carry 4 to 5 A: US Army TM 9-8000, figs 15-5 to 15-13",
	"above 5 A points burn; 2.8 to 4 Ω in all on 12 V: common practice"}

// conclude turns the rows into findings, a verdict and one sentence.
func (r *run) conclude() {
	r.out.Verdict = finding.Pass
	r.current()
	r.feedFinding()
	r.polarityFinding()
	r.rowsFinding()
	r.startFinding()
	r.measuredStartFinding()
	r.heat()
	r.usualCoil()
	r.ideal()
	r.out.Findings.Sort()
	r.words()
	r.out.Summary = r.enough()
	if r.out.Verdict != finding.Pass {
		r.out.Summary = r.out.Findings[0].Title + "."
	}
}

// enough is the sentence of a car that passes: what a dirty plug does is said
// beside it, from figures with the losses taken off.
func (r *run) enough() string {
	from := math.Inf(1)
	for _, row := range r.out.Rows {
		if row.DirtyPlug != "enough" {
			from = math.Min(from, row.EngineRPM)
		}
	}
	if math.IsInf(from, 1) {
		return "There is enough spark at every speed asked for, losses taken off, even where a worn plug is dirty."
	}
	return fmt.Sprintf(
		"There is enough spark at every speed asked for with clean plugs, losses taken off; a worn plug "+
			"that is dirty may misfire from %.0f engine rpm.", from)
}

func (r *run) find(verdict string, f finding.Finding) {
	r.out.Verdict, f.Verdict = finding.Worse(r.out.Verdict, verdict), verdict
	r.out.Findings.Add(f)
}

func (r *run) most() float64 {
	if r.in.Points.MaxA != nil {
		return *r.in.Points.MaxA
	}
	if r.sixVolt {
		return sixMost
	}
	return pointsMost
}

// stalledShort is the caution of an ignition left on, for this circuit.
func (r *run) stalledShort() string {
	if r.circuit.ballast > 0 {
		return fmt.Sprintf(stalledCare, "Coil and ballast get")
	}
	return fmt.Sprintf(stalledCare, "The coil gets")
}

// carries says what points usually carry on this system, and its sources.
func (r *run) carries() (string, []string) {
	if r.sixVolt {
		return fmt.Sprintf("6 V sets live with about %.2g A", sixUsual), sixSources
	}
	return "points carry 4 to 5 A", currentSources
}

// current judges the most that the points carry: engine slow, battery on charge.
func (r *run) current() {
	amps := r.out.MostA
	usual, _ := r.carries()
	line := fmt.Sprintf("Most current, engine slow and charging, V / R: %.4g / %.4g = %.2g A; %s, at most %.3g.",
		r.in.SupplyV, r.out.TotalOhm, amps, usual, r.most())
	switch {
	case amps > r.most() && len(r.circuit.guessed) > 0:
		r.perhaps("current-high", "too much current for points", "too little resistance", amps, line)
	case amps < tooLittle && len(r.circuit.guessed) > 0:
		r.perhaps("current-low", "too little current for a good spark", "too much resistance", amps, line)
	case amps > r.most():
		r.overload(amps, line)
	case amps < tooLittle:
		r.starved(amps, line)
	}
}

// perhaps asks for the ohms first: a current worked out of ohms nobody has
// measured proves nothing, and nothing is bought or fitted on it.
func (r *run) perhaps(code, what, direction string, amps float64, line string) {
	_, sources := r.carries()
	f := finding.Finding{Code: code, Title: fmt.Sprintf("Measure the ohms: perhaps %s, %.1f A", what, amps),
		Part: "the figures", Direction: direction, Sureness: "possible",
		Text: fmt.Sprintf("The ohms of the %s are assumed, not measured. Measure them first, cold and disconnected: until then this is a question, and nothing is fitted or taken out because of it.",
			strings.Join(r.circuit.guessed, " and the ")),
		DisprovedBy: "the ohms measured cold and disconnected, feed to distributor terminal",
		Working:     []string{line, "Assumed: " + r.assumedOhms()}, Sources: sources}
	if code == "current-high" {
		f.Caution = r.stalledShort()
	}
	r.find(finding.Watch, f)
}

// assumedOhms names the figures the current stands on.
func (r *run) assumedOhms() string {
	return fmt.Sprintf("coil %.3g Ω, ballast %.3g Ω, leads %.3g Ω; of these nobody measured the %s.", r.circuit.primary,
		r.circuit.ballast, r.circuit.lead, strings.Join(r.circuit.guessed, " and the "))
}

// overloadSix leaves the ballast out of it: on 6 V one weakens a spark that
// has little to spare.
func (r *run) overloadSix(amps float64, line string) {
	f := finding.Finding{Code: "current-high", Title: fmt.Sprintf("Too much current for points: %.1f A", amps),
		Part: "coil", Direction: "too little resistance", Sureness: "sure", Caution: r.stalledShort(),
		Text:        fmt.Sprintf("It burns the points and overheats the coil. Do not leave the ignition on. Check the coil: measure it again, cold and disconnected, and see that it is one made for points on 6 V; with its leads %.2g Ω would carry %.2g A here. Check the charging volts too. A ballast is no cure on a 6 V car: it weakens the spark.", r.in.SupplyV/sixUsual, sixUsual),
		DisprovedBy: "the ohms measured cold and disconnected, feed to distributor terminal",
		Working: []string{line, fmt.Sprintf("For %.2g A: %.4g / %.2g = %.3g Ω in all.", sixUsual, r.in.SupplyV,
			sixUsual, r.in.SupplyV/sixUsual)}, Sources: sixSources}
	r.find(finding.Fail, f)
}

func (r *run) overload(amps float64, line string) {
	if r.sixVolt {
		r.overloadSix(amps, line)
		return
	}
	add := r.in.SupplyV/pointsUsual - r.out.TotalOhm
	f := finding.Finding{Code: "current-high", Title: fmt.Sprintf("Too much current for points: %.1f A", amps),
		Part: "coil and ballast", Direction: "too little resistance", Sureness: "sure", Caution: r.stalledShort(),
		Text:        fmt.Sprintf("This pairing burns the points and overheats the coil. Do not leave the ignition on. Either fit a ballast of about %.1f Ω in the feed (with its starting bypass), so that coil and ballast make about %.1f Ω together, or fit the coil made to run without a ballast.", add, r.in.SupplyV/pointsUsual),
		DisprovedBy: "the ohms measured cold and disconnected, feed to distributor terminal, ballast included",
		Working: []string{line, fmt.Sprintf("For %.2g A: %.4g / %.2g = %.3g Ω in all, %.3g Ω more than now.",
			pointsUsual, r.in.SupplyV, pointsUsual, r.in.SupplyV/pointsUsual, add)}, Sources: currentSources}
	if r.out.TotalOhm < 1.2 {
		f.Text = "Stop: a coil of so few ohms is made for an electronic box and never belongs on points. " + f.Text
	}
	r.find(finding.Fail, f)
}

func (r *run) starved(amps float64, line string) {
	f := finding.Finding{Code: "current-low", Title: fmt.Sprintf("Too little current for a good spark: %.1f A", amps),
		Part: "coil and ballast", Direction: "too much resistance", Sureness: "likely",
		Text:        "The coil never fills: weak spark, hard starting. Look for added resistance in switch and connections by their volt drops, and check that the coil is the kind this car wants.",
		DisprovedBy: "the ohms measured cold and disconnected", Working: []string{line}, Sources: currentSources}
	if r.sixVolt {
		f.Sources = sixSources
	}
	if r.sixVolt && r.circuit.ballast > 0 {
		f.Text = "A 6 V car has no ballast unless its own manual shows one. If it shows none, take the ballast out of the feed. The coil must be one made for points on 6 V, about 1.3 Ω. The coil never fills as it is: weak spark, hard starting."
		f.Working = append(f.Working, r.withoutBallast())
	} else if r.circuit.ballast > 0 || r.out.TotalOhm > 4.2 && !r.sixVolt {
		f.Text = "Most likely a plain coil is kept behind a ballast (or a resistance wire in the loom). Either take the ballast out of the feed, if the coil by itself has about 3 Ω or more, or fit the coil made for this ballast, about 1.5 Ω. Never both. The coil never fills as it is: weak spark, hard starting."
		f.Working = append(f.Working, r.withoutBallast())
	}
	r.find(finding.Watch, f)
}

func (r *run) withoutBallast() string {
	rest := r.circuit.total() - r.circuit.ballast
	return fmt.Sprintf("Without the ballast of %.3g Ω: %.4g / %.4g = %.2g A.", r.circuit.ballast, r.in.SupplyV, rest,
		r.in.SupplyV/rest)
}

// rowsFinding says from which speed the spark is short.
func (r *run) rowsFinding() {
	var short, thin *Row
	for i := range r.out.Rows {
		row := &r.out.Rows[i]
		if row.Verdict == "fail" && (short == nil || row.EngineRPM < short.EngineRPM) {
			short = row
		}
		if row.Verdict == "watch" && (thin == nil || row.EngineRPM < thin.EngineRPM) {
			thin = row
		}
	}
	switch {
	case short != nil:
		r.find(finding.Fail, r.margin("spark-short", "The spark is too weak from %.0f engine rpm", *short,
			"Even with the "+
				"least losses it does not reach what the plug may ask for: expect misfire under load there. "))
	case thin != nil:
		r.find(finding.Watch, r.margin("spark-thin", "Little to spare from %.0f engine rpm", *thin,
			"With the losses taken "+
				"off, a clean plug of sound gap fires; a worn or dirty one may not. "))
	}
}

func (r *run) margin(code, title string, row Row, start string) finding.Finding {
	return finding.Finding{Code: code, Title: fmt.Sprintf(title, row.EngineRPM), Part: "dwell, coil, plug gap",
		Direction: "too weak", Sureness: "possible",
		Text:        start + "In this order: plugs clean and gapped as the book says, polarity right, dwell in the book's range, volts at the coil, then the coil. Closing the plugs by 0.1 mm (5 thou) as a trial tells: if the misfire goes, the spark was too weak.",
		DisprovedBy: "it pulls cleanly at that speed, full throttle; or the misfire stays with the plugs closed by 0.1 mm",
		Working: []string{fmt.Sprintf(
			"At %.0f engine rpm: charge %.3g ms, %.3g A, %.3g mJ; %.3g kV on paper, of which a "+
				"real coil gives %.3g to %.3g kV, with a dirty plug %.3g to %.3g kV; the plug may ask for %.3g to %.3g kV, a good "+
				"one up to %.3g kV.",
			row.EngineRPM, row.ChargeMs, row.CurrentA, row.EnergyMilliJ, row.AvailableKV, row.RealLowKV, row.RealHighKV,
			row.DirtyLowKV, row.DirtyHighKV, row.RequiredLowKV, row.RequiredKV, row.RequiredGoodKV)}}
}

// startFinding compares the start through the ballast and past it.
func (r *run) startFinding() {
	through := r.out.Cranking[0]
	if r.circuit.ballast <= 0 {
		if through.Verdict == "fail" {
			r.find(finding.Fail, r.startShort(through,
				"Charge or replace the battery, clean its clamps and the engine strap; then the coil."))
		}
		return
	}
	past := r.out.Cranking[1]
	line := fmt.Sprintf(
		"Cranking at %.3g V: through the ballast %.3g A and %.3g to %.3g kV, past it %.3g A and %.3g to "+
			"%.3g kV; the plug may ask for %.3g kV.",
		through.BatteryV, through.CurrentA, through.RealLowKV, through.RealHighKV, past.CurrentA, past.RealLowKV,
		past.RealHighKV, past.RequiredKV)
	if past.Verdict == "fail" {
		r.find(finding.Fail,
			r.startShort(past, "Even with the bypass it is short: battery, clamps and engine strap first."))
		return
	}
	if through.Verdict != "pass" && through.Verdict != past.Verdict {
		r.find(finding.Pass, finding.Finding{Code: "bypass-needed", Title: "It needs the starting bypass",
			Part: "starting bypass", Sureness: "likely", Working: []string{line},
			Text:        "On a low battery the spark through the ballast is too weak to start it. If it fires only as the key is let go, the bypass (starter switch contact or relay, and its wire) is dead: its drop while cranking must be 0.1 V at most.",
			DisprovedBy: "battery to coil feed while cranking: 0.1 V or less",
			Sources:     []string{"bypass drop 0.1 V: US Navy NAVEDTRA 14329, fig 6-48 view B"}})
	}
}

func (r *run) startShort(row CrankingRow, advice string) finding.Finding {
	return finding.Finding{Code: "cranking-short", Title: "Too weak a spark to start on a low battery",
		Part: "battery and its connections", Direction: "too weak", Sureness: "possible", Text: advice,
		DisprovedBy: "battery volts while cranking above the figure taken here",
		Caution:     "Neutral, handbrake on, clear of fan and belts before cranking.",
		Working: []string{fmt.Sprintf(
			"Cranking at %.3g V and %.0f engine rpm: %.3g A, %.3g to %.3g kV with the losses "+
				"taken off; the plug may ask for %.3g kV.",
			row.BatteryV, row.EngineRPM, row.CurrentA, row.RealLowKV, row.RealHighKV, row.RequiredKV)}}
}

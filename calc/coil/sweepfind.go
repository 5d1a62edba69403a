package coil

import (
	"fmt"

	"pointsmith/calc/finding"
)

const (
	pointsUsual   = 4.4  // amperes: 4 to 5 A is the normal current of points, US Army TM 9-8000
	pointsMost    = 5.0  // amperes: above this points burn, common practice
	tooLittle     = 3.3  // amperes, slow idle: below the usual 2.8 to 4 Ω on 13.8 V (common practice)
	batteryAtRest = 12.6 // volts of a sound 12 V battery that nothing charges: common practice
	stalledShort  = "Ignition on with the engine still: at most a minute or two. Switch off, pull the feed, or put a clean card between the points. Coil and ballast get hot enough to burn and to start a fire."
)

var currentSources = []string{"points carry 4 to 5 A: US Army TM 9-8000, figs 15-5 to 15-13", "above 5 A points burn; 2.8 to 4 Ω in all on 12 V: common practice"}

// conclude turns the rows into findings, a verdict and one sentence.
func (r *run) conclude() {
	r.out.Verdict = finding.Pass
	r.current()
	r.rowsFinding()
	r.startFinding()
	r.heat()
	r.usualCoil()
	r.ideal()
	r.out.Findings.Sort()
	r.words()
	r.out.Summary = "There is enough spark at every speed asked for, even with a dirty plug."
	if r.out.Verdict != finding.Pass {
		r.out.Summary = r.out.Findings[0].Title + "."
	}
}

func (r *run) find(verdict string, f finding.Finding) {
	r.out.Verdict, f.Verdict = finding.Worse(r.out.Verdict, verdict), verdict
	r.out.Findings.Add(f)
}

func (r *run) most() float64 {
	if r.in.Points.MaxA != nil {
		return *r.in.Points.MaxA
	}
	return pointsMost
}

// current judges the most that the points carry: engine slow, battery on charge.
func (r *run) current() {
	amps := r.out.MostA
	line := fmt.Sprintf("Most current, engine slow and charging, V / R: %.4g / %.4g = %.2g A; points carry 4 to 5 A, at most %.3g.", r.in.SupplyV, r.out.TotalOhm, amps, r.most())
	switch {
	case amps > r.most():
		r.overload(amps, line)
	case amps < tooLittle:
		r.starved(amps, line)
	}
}

func (r *run) overload(amps float64, line string) {
	add := r.in.SupplyV/pointsUsual - r.out.TotalOhm
	f := finding.Finding{Code: "current-high", Title: fmt.Sprintf("Too much current for points: %.1f A", amps), Part: "coil and ballast", Direction: "too little resistance", Sureness: "sure", Caution: stalledShort,
		Text:        fmt.Sprintf("This pairing burns the points and overheats the coil. Do not leave the ignition on. Either fit a ballast of about %.1f Ω in the feed (with its starting bypass), so that coil and ballast make about %.1f Ω together, or fit the coil made to run without a ballast.", add, r.in.SupplyV/pointsUsual),
		DisprovedBy: "the ohms measured cold and disconnected, feed to distributor terminal, ballast included",
		Working:     []string{line, fmt.Sprintf("For %.2g A: %.4g / %.2g = %.3g Ω in all, %.3g Ω more than now.", pointsUsual, r.in.SupplyV, pointsUsual, r.in.SupplyV/pointsUsual, add)}, Sources: currentSources}
	if r.out.TotalOhm < 1.2 {
		f.Text = "Stop: a coil of so few ohms is made for an electronic box and never belongs on points. " + f.Text
	}
	r.find(finding.Fail, f)
}

func (r *run) starved(amps float64, line string) {
	f := finding.Finding{Code: "current-low", Title: fmt.Sprintf("Too little current for a good spark: %.1f A", amps), Part: "coil and ballast", Direction: "too much resistance", Sureness: "likely",
		Text:        "The coil never fills: weak spark, hard starting. Look for added resistance in switch and connections by their volt drops, and check that the coil is the kind this car wants.",
		DisprovedBy: "the ohms measured cold and disconnected", Working: []string{line}, Sources: currentSources}
	if r.circuit.ballast > 0 || r.out.TotalOhm > 4.2 && !r.sixVolt {
		f.Text = "Most likely a plain coil is kept behind a ballast (or a resistance wire in the loom). Either take the ballast out of the feed, if the coil by itself has about 3 Ω or more, or fit the coil made for this ballast, about 1.5 Ω. Never both. The coil never fills as it is: weak spark, hard starting."
		f.Working = append(f.Working, fmt.Sprintf("Without the ballast of %.3g Ω: %.4g / %.4g = %.2g A.", r.circuit.ballast, r.in.SupplyV, r.circuit.total()-r.circuit.ballast, r.in.SupplyV/(r.circuit.total()-r.circuit.ballast)))
	}
	r.find(finding.Watch, f)
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
		r.find(finding.Fail, r.margin("spark-short", "The spark is too weak from %.0f engine rpm", *short, "At best it does not reach what the plug may ask for: expect misfire under load there. "))
	case thin != nil:
		r.find(finding.Watch, r.margin("spark-thin", "Little to spare from %.0f engine rpm", *thin, "A clean plug fires; a dirty one may not. "))
	}
}

func (r *run) margin(code, title string, row Row, start string) finding.Finding {
	return finding.Finding{Code: code, Title: fmt.Sprintf(title, row.EngineRPM), Part: "dwell, coil, plug gap", Direction: "too weak", Sureness: "possible",
		Text:        start + "In this order: plugs clean and gapped as the book says, polarity right, dwell in the book's range, volts at the coil, then the coil. Closing the plugs by 0.1 mm (5 thou) as a trial tells: if the misfire goes, the spark was too weak.",
		DisprovedBy: "it pulls cleanly at that speed, full throttle; or the misfire stays with the plugs closed by 0.1 mm",
		Working: []string{fmt.Sprintf("At %.0f engine rpm: charge %.3g ms, %.3g A, %.3g mJ; available %.3g kV with a dirty plug to %.3g kV at best; the plug may ask for %.3g to %.3g kV.",
			row.EngineRPM, row.ChargeMs, row.CurrentA, row.EnergyMilliJ, row.AvailableLowKV, row.AvailableKV, row.RequiredLowKV, row.RequiredKV)}}
}

// startFinding compares the start through the ballast and past it.
func (r *run) startFinding() {
	through := r.out.Cranking[0]
	if len(r.out.Cranking) == 1 {
		if through.Verdict == "fail" {
			r.find(finding.Fail, r.startShort(through, "Charge or replace the battery, clean its clamps and the engine strap; then the coil."))
		}
		return
	}
	past := r.out.Cranking[1]
	line := fmt.Sprintf("Cranking at %.3g V: through the ballast %.3g A and %.3g kV at best, past it %.3g A and %.3g kV; the plug may ask for %.3g kV.", through.BatteryV, through.CurrentA, through.AvailableKV, past.CurrentA, past.AvailableKV, past.RequiredKV)
	if past.Verdict == "fail" {
		r.find(finding.Fail, r.startShort(past, "Even with the bypass it is short: battery, clamps and engine strap first."))
		return
	}
	if through.Verdict != "pass" && through.Verdict != past.Verdict {
		r.find(finding.Pass, finding.Finding{Code: "bypass-needed", Title: "It needs the starting bypass", Part: "starting bypass", Sureness: "likely", Working: []string{line},
			Text:        "On a low battery the spark through the ballast is too weak to start it. If it fires only as the key is let go, the bypass (starter switch contact or relay, and its wire) is dead: its drop while cranking must be 0.1 V at most.",
			DisprovedBy: "battery to coil feed while cranking: 0.1 V or less", Sources: []string{"bypass drop 0.1 V: US Navy NAVEDTRA 14329, fig 6-48 view B"}})
	}
}

func (r *run) startShort(row CrankingRow, advice string) finding.Finding {
	return finding.Finding{Code: "cranking-short", Title: "Too weak a spark to start on a low battery", Part: "battery and its connections", Direction: "too weak", Sureness: "possible", Text: advice,
		DisprovedBy: "battery volts while cranking above the figure taken here", Caution: "Neutral, handbrake on, clear of fan and belts before cranking.",
		Working: []string{fmt.Sprintf("Cranking at %.3g V and %.0f engine rpm: %.3g A, %.3g kV at best; the plug may ask for %.3g kV.", row.BatteryV, row.EngineRPM, row.CurrentA, row.AvailableKV, row.RequiredKV)}}
}

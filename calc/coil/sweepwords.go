package coil

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
)

func (r *run) heat() {
	o := r.out
	f := finding.Finding{Code: "coil-heat", Title: fmt.Sprintf("Ignition on, engine stopped: %.0f W of heat",
		o.StalledWatts), Part: r.load(), Sureness: "sure", Caution: r.stalledShort(),
		Text: fmt.Sprintf("With the points closed, %.1f A flows all the time: %.0f W in the coil", o.StalledA,
			o.StalledCoilWatts),
		Working: []string{fmt.Sprintf(
			"V² / R of the battery alone: %.4g² / %.4g = %.3g W; the coil's share i² R: %.3g² × %.3g = %.3g W.",
			o.StoppedV, o.TotalOhm, o.StalledWatts, o.StalledA, r.circuit.primary, o.StalledCoilWatts)},
		Sources: []string{"V² / R",
			"a coil stands about half of that for long; one to two minutes at most: common practice"}}
	if len(r.circuit.guessed) > 0 {
		f.Sureness = "possible"
		f.Working = append(f.Working, "Assumed: "+r.assumedOhms())
	}
	if o.StalledBallastW > 0 {
		f.Text += fmt.Sprintf(" and %.0f W in the ballast", o.StalledBallastW)
	}
	f.Text += ". Running, the points are open part of the time and the current starts anew at each closing, so it is far less. A coil stands about half of this for long. In minutes it overheats."
	r.out.Findings.Add(f)
}

// load names what takes the current.
func (r *run) load() string {
	if r.circuit.ballast > 0 {
		return "coil and ballast"
	}
	return "coil"
}

func (r *run) usualCoil() {
	if !r.circuit.plain {
		return
	}
	k := usual(r.sixVolt, r.circuit.ballast > 0)
	r.out.Findings.Add(finding.Finding{Code: "usual-coil",
		Title: "These are the figures of a usual coil, not of this one", Part: "the figures", Sureness: "sure",
		Text: fmt.Sprintf("Nothing of this coil was given, so %s is taken (%.3g Ω, %.3g mH, %.0f to 1, %.2g µF, %.0f pF): common practice. The ohms are easily measured, cold and disconnected; give those first.",
			k.name, r.circuit.primary, r.circuit.milliH, r.circuit.ratio, r.circuit.microF, r.circuit.picoF),
		Sources: []string{"common practice; inductance worked back from the currents over speed the trade quotes"}})
}

// ideal says why the best figure is not a measured one.
func (r *run) ideal() {
	best := r.out.Rows[0]
	for _, row := range r.out.Rows {
		if row.AvailableKV > best.AvailableKV {
			best = row
		}
	}
	r.out.Findings.Add(finding.Finding{Code: "ideal-not-measured",
		Title: "The best figure is a bound, not a measurement", Part: "the figures", Sureness: "sure",
		Text:        notMeasured,
		DisprovedBy: "a kilovolt meter with the plug lead held off",
		Working: []string{fmt.Sprintf(
			"At %.0f engine rpm %.3g kV on paper; a real coil gives %.3g to %.3g kV of it, with "+
				"%.3g MΩ across the plug %.3g to %.3g kV. Common practice: 20 to 30 kV out of 12 V.",
			best.EngineRPM, best.AvailableKV, best.RealLowKV, best.RealHighKV, r.leak, best.DirtyLowKV,
			best.DirtyHighKV)},
		Sources: []string{"20 to 30 kV out of 12 V: common practice",
			"1 MΩ as the load of a dirty plug: inductive test " +
				"standards, from memory"}})
}

func (r *run) words() {
	c, row := r.circuit, r.out.Rows[0]
	r.out.Working = []string{
		fmt.Sprintf("Ohms in all: coil %.4g + ballast %.4g + leads %.4g = %.4g Ω. Time constant %.4g mH / %.4g Ω = %.3g ms.",
			c.primary, c.ballast, c.lead, c.total(), c.milliH, c.total(), c.milliH/c.total()),
		fmt.Sprintf("At %.0f engine rpm a dwell of %.4g° lasts %.4g × %.3g / (6 × %.0f) s = %.4g ms.",
			row.EngineRPM, r.dwell, r.dwell, engineTurns(r.in.DriveRatio), row.EngineRPM, row.ChargeMs),
		fmt.Sprintf("In that time %.4g V reach %.4g A and %.4g mJ.", r.in.SupplyV, row.CurrentA, row.EnergyMilliJ),
		fmt.Sprintf("When the points open: %.4g kV at best, %.4g kV with %.4g MΩ across the plug.", row.AvailableKV,
			row.AvailableLowKV, r.leak),
		fmt.Sprintf("Losses taken off: %.3g to %.3g kV with a clean plug, %.3g to %.3g kV with a dirty one.",
			row.RealLowKV, row.RealHighKV, row.DirtyLowKV, row.DirtyHighKV),
		fmt.Sprintf("The plug may ask for %.3g to %.3g kV, a good one up to %.3g kV; margin against the highest need %.3g "+
			"to %.3g kV.", row.RequiredLowKV, row.RequiredKV, row.RequiredGoodKV, row.RealMarginLowKV,
			row.RealMarginHighKV),
	}
	for _, l := range r.out.Losses {
		r.out.Working = append(r.out.Working, l.Words+" "+strings.ToUpper(l.Source[:1])+l.Source[1:]+".")
	}
	if r.out.FeedOhm != nil {
		r.out.Working = append(r.out.Working,
			fmt.Sprintf("The volts at the coil stand for %.3g Ω before it; with the coil "+
				"%.4g Ω in all, instead of the ohms added up.", r.feed, r.loopOhm))
	}
	r.out.Sources = []string{"charge: J. O. Bird, Electrical Circuit Theory and Technology, ch 17",
		"swing: the loop equation, solved exactly",
		"need: Kamaraju & Naidu, High Voltage Engineering, and Paschen's law, as a range",
		"what is assumed stands in assumed"}
}

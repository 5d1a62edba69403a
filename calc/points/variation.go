package points

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

const (
	variationPass = 2.0    // distributor degrees, an owners' forum on dwell variation
	variationFail = 3.0    // distributor degrees, common practice
	lowRange      = 1300.0 // distributor rpm: wear shows below this; bounce only above (bench runs go to 1000 and more)
)

var (
	speedSources  = []string{"2 degrees: owners' forum on dwell variation", "3 degrees: common practice"}
	vacuumSources = []string{"2 degrees from 0 to 20 inHg on centre-pivot plates only: US Army TM 9-4910-622-14&P, p. 18"}
)

func (in JudgeIn) checkRuns() *refuse.Error {
	for i, r := range in.Speeds {
		if bad := OverPitch(fmt.Sprintf("speeds[%d].dwellDistDeg", i), in.Cylinders, r.DwellDistDeg); bad != nil {
			return bad
		}
	}
	for i, r := range in.Vacuum {
		if bad := OverPitch(fmt.Sprintf("vacuum[%d].dwellDistDeg", i), in.Cylinders, r.DwellDistDeg); bad != nil {
			return bad
		}
	}
	if in.Twin == nil {
		return nil
	}
	return in.Twin.check(in.Cylinders)
}

// slowEnough is lowRange in engine rpm.
func (c *court) slowEnough() float64 { return lowRange * ratio(c.in.DriveRatio) }

// speeds judges dwell over speed: wear below lowRange, bounce above it.
func (c *court) speeds() {
	var slow []SpeedReading
	for _, r := range c.in.Speeds {
		if r.EngineRPM <= c.slowEnough() {
			slow = append(slow, r)
		}
	}
	if len(slow) >= 2 {
		c.wear(slow)
	} else if len(c.in.Speeds) > 0 {
		c.out.Ask = append(c.out.Ask,
			fmt.Sprintf("Dwell over speed wants at least two readings below %.0f engine rpm: "+
				"idle, about %.0f, idle again.", c.slowEnough(), 750*ratio(c.in.DriveRatio)))
	}
	c.bounce(slow)
}

func (c *court) wear(slow []SpeedReading) {
	byDwell := func(a, b SpeedReading) int { return cmp.Compare(a.DwellDistDeg, b.DwellDistDeg) }
	first, low, high := slow[0], slices.MinFunc(slow, byDwell), slices.MaxFunc(slow, byDwell)
	v := high.DwellDistDeg - low.DwellDistDeg
	furthest := high
	if first.DwellDistDeg-low.DwellDistDeg > high.DwellDistDeg-first.DwellDistDeg {
		furthest = low
	}
	shift := (first.DwellDistDeg - furthest.DwellDistDeg) * ratio(c.in.DriveRatio) / 2
	c.out.VariationDistDeg, c.out.ShiftCrankDeg = &v, &shift
	c.say(fmt.Sprintf(
		"Dwell over speed: most %.3g° at %.0f, least %.3g° at %.0f engine rpm: changes by %s; pass to %g, fail over %g.",
		high.DwellDistDeg, high.EngineRPM, low.DwellDistDeg, low.EngineRPM, finding.Degrees(v, "distributor"),
		variationPass, variationFail))
	f := finding.Finding{Code: "dwell-wanders", Part: "shaft bush, then plate pivot and cam", Direction: "wanders",
		Sources:     speedSources,
		DisprovedBy: "shaft side play by dial gauge or by gap change with the shaft pushed sideways, both inside their limit",
		Working: []string{fmt.Sprintf("%.3g° − %.3g° = %s; timing wanders with it by about %s.", high.DwellDistDeg,
			low.DwellDistDeg, finding.Degrees(v, "distributor"), finding.Degrees(v*ratio(c.in.DriveRatio)/2, "crank"))}}
	switch {
	case v <= variationPass+1e-9:
		c.find("pass", finding.Finding{Code: "dwell-steady", Title: "Dwell is steady over speed",
			Part: "shaft and plate", Sureness: "likely", Sources: speedSources,
			Text: "Bush, plate and drive hold the points where they should be. The whole distributor has passed an easy test.", Working: f.Working})
	case v > variationFail+1e-9:
		f.Title, f.Sureness = "Dwell wanders with speed: the distributor is worn", "likely"
		f.Text = "The shaft moves in its bush, or the plate rocks. No setting of points or timing can cure that: bush and plate first, then set dwell and timing again. A needle that jumps rather than wanders is wiring inside."
		c.find("fail", f)
	default:
		f.Title, f.Sureness = "Dwell wanders a little with speed", "possible"
		f.Text = "Between sound and worn out. Measure shaft side play, see that the plate does not rock, and look again at the next visit."
		c.find("watch", f)
	}
}

// bounce looks for a sudden fall of dwell at high speed under a steady run
// below: points that leave the cam, a weak spring.
func (c *court) bounce(slow []SpeedReading) {
	if len(slow) == 0 {
		return
	}
	least := math.Inf(1)
	for _, r := range slow {
		least = math.Min(least, r.DwellDistDeg)
	}
	worst := SpeedReading{DwellDistDeg: math.Inf(1)}
	for _, r := range c.in.Speeds {
		if r.EngineRPM > c.slowEnough() && r.DwellDistDeg < worst.DwellDistDeg {
			worst = r
		}
	}
	fall := least - worst.DwellDistDeg
	if fall <= variationFail || math.IsInf(fall, 0) {
		return
	}
	c.find("fail", finding.Finding{Code: "points-bounce", Title: "Dwell falls away at high speed: the points bounce",
		Part: "points spring", Direction: "too weak", Sureness: "likely",
		Text:        "The run below is steadier, and then the dwell drops: the heel leaves the cam, or the points rebound. Measure the spring at the contact as the points part, see that the pivot is free and not dry, and fit a set with the proper spring. It is not a worn shaft.",
		DisprovedBy: "spring tension within the maker's figure (17 to 20 oz on one maker's) and a free pivot",
		Working: []string{fmt.Sprintf("Least %.3g° below %.0f engine rpm; %.3g° at %.0f: %s less.", least,
			c.slowEnough(), worst.DwellDistDeg, worst.EngineRPM, finding.Degrees(fall, "distributor"))},
		Sources: []string{"sudden fall at high speed is bounce, not wear: US Army TM 9-4910-622-14&P and an owners' forum on dwell variation",
			"spring 17 to 20 oz: a mid-1950s US maker's service manual"}})
}

func (c *court) vacuum() {
	if len(c.in.Vacuum) < 2 {
		return
	}
	byDwell := func(a, b VacuumReading) int { return cmp.Compare(a.DwellDistDeg, b.DwellDistDeg) }
	low, high := slices.MinFunc(c.in.Vacuum, byDwell), slices.MaxFunc(c.in.Vacuum, byDwell)
	v := high.DwellDistDeg - low.DwellDistDeg
	c.out.VacuumVariationDistDeg = &v
	line := fmt.Sprintf("Dwell under vacuum: most %.3g° at %.3g, least %.3g° at %.3g kPa: changes by %s.",
		high.DwellDistDeg, high.VacuumKPa, low.DwellDistDeg, low.VacuumKPa, finding.Degrees(v, "distributor"))
	c.say(line)
	f := finding.Finding{Code: "plate-moves-dwell", Part: "moving plate and its pivot", Sources: vacuumSources,
		Working:     []string{line},
		DisprovedBy: "the plate lifted and rocked by hand shows no play"}
	switch {
	case v <= variationPass+1e-9:
		f.Code, f.Title = "plate-steady", "The plate holds the dwell under vacuum"
		f.Sureness, f.DisprovedBy = "likely", ""
		f.Text = "The moving plate turns without rocking."
		c.find("pass", f)
	case c.in.PlatePivot == "side":
		f.Code, f.Title, f.Sureness = "plate-side-pivot", "A side-pivot plate changes dwell by design", "likely"
		f.Text = "No limit is published for this kind of plate. Write this figure down with the distributor and compare it next time; look for rocking by hand."
		c.find("watch", f)
	case c.in.PlatePivot == "centre":
		f.Title, f.Sureness = "The plate wobbles: dwell changes under vacuum", "likely"
		f.Text = "On a plate that turns about the shaft the dwell may change by 2 degrees at most. The plate's bearing, its springs or its clips are worn: timing then wanders with load."
		c.find("fail", f)
	default:
		f.Title, f.Sureness = "Dwell changes under vacuum", "possible"
		f.Text = "On a plate that turns about the shaft this is too much; on one with its pivot at the side it is by design."
		c.out.Ask = append(c.out.Ask, "Does the moving plate turn about the shaft (centre) or about a pin at its side?")
		c.find("watch", f)
	}
}

package faults

import (
	"strconv"
	"strings"
)

// Limits that do not depend on the car, each with its source.
const (
	feedDrop    = 0.3  // V lost to a coil without ballast: common practice, as in supply.judge
	runningDrop = 0.2  // V, the same running: points are closed two thirds of the time
	leastFlow   = 0.3  // A: less is a meter's or a lamp's, not a coil's (chosen)
	sixFeed     = 5.7  // V at the coil of a 6 V car: common practice, as in supply.judge
	pointsDrop  = 0.2  // V across closed points: common practice
	bodyDrop    = 0.1  // V from body to earth: common practice
	dwellChange = 3    // distributor degrees, idle to 1500: common practice
	jitter      = 1    // crank degree at a steady speed: common practice
	pump        = 50.8 // kPa, 15 inHg: common practice
	hold        = 3.4  // kPa lost in half a minute, 1 inHg: common practice
	spread      = 10   // % below the highest compression: a home tune-up guide of the 1970s
	chainSlack  = 5    // crank degrees: owners' forum
	pathKOhm    = 20   // kΩ of lead, rotor and plug together: common practice
	pullLow     = 17   // oz as the points part: a US maker's manual of the 1950s
	pullHigh    = 24   // oz: from memory
	strapDrop   = 0.3  // V between block and earth post, cranking: common practice
	scatterMost = 1    // distributor degree from the mean: common practice
	sparkMm     = 6    // a spark of this length has to be steady and blue: common practice
	baseWithin  = 2    // crank degrees from the book's base: common practice
	condLow     = 0.18 // µF: owners' forum
	condHigh    = 0.25 // µF: owners' forum
	vacLowInHg  = 17   // at warm idle: vacuum-gauge guides
	vacHighInHg = 22   // the same
	kPaPerInHg  = 3.386389
)

// figures are the numbers of this car, by the names used in data/*.json. One
// that is not known is not in it.
type figures map[string]float64

// figuresOf works out what this car should show. Volts of a 6 V car are half
// of a 12 V car's, its feed but for the loss allowed (common practice).
//
//	current   = feed / (coil + ballast)
//	at coil   = battery · coil / (coil + ballast)
//	flashes   = cylinders · idle / 2 a minute, four strokes
func figuresOf(c Car, f Facts) figures {
	six := c.NominalV != nil && *c.NominalV == 6
	scale := 1.0
	if six {
		scale = 0.5
	}
	// 12.6 V standing, 13.8 to 14.8 V charging, 9.6 V cranking: common practice
	g := figures{"nominalV": 12 * scale, "batteryV": 12.6 * scale, "chargeMin": 13.8 * scale,
		"chargeMax": 14.8 * scale, "crankV": 9.6 * scale, "standV": 12.4 * scale,
		"feedDropV": feedDrop, "pointsDropV": pointsDrop, "strapV": strapDrop,
		"dwellChange": dwellChange, "jitter": jitter, "pumpKPa": pump, "holdKPa": hold, "spread": spread,
		"chainSlack": chainSlack, "pathKOhm": pathKOhm, "pullLow": pullLow, "pullHigh": pullHigh, "one": 1}
	if f.BatteryV != nil && *f.BatteryV > 0 {
		g["batteryV"] = *f.BatteryV
	}
	g["feedMinV"] = g["batteryV"] - feedDrop
	if six {
		g["feedMinV"] = min(g["feedMinV"], sixFeed)
		g["feedDropV"] = max(feedDrop, g["batteryV"]-g["feedMinV"])
	}
	less := 0.0 // one inHg less for each 1000 ft: US Army TM 9-4910-677-14&P
	if c.AltitudeM != nil {
		less = *c.AltitudeM / 304.8
	}
	g["vacLowIn"], g["vacHighIn"] = vacLowInHg-less, vacHighInHg-less
	g["vacLow"], g["vacHigh"] = g["vacLowIn"]*kPaPerInHg, g["vacHighIn"]*kPaPerInHg
	g.coil(c, six)
	g.book(c)
	return g
}

// coil adds what follows from the ohms. Ranges where they are not known: plain
// 2.8 to 4 Ω, pair 2.8 to 3.3 Ω, 6 V 0.9 to 1.6 Ω (common practice, the last
// from memory).
func (g figures) coil(c Car, six bool) {
	g["coilLowOhm"], g["coilHighOhm"], g["pairLowOhm"], g["pairHighOhm"] = 2.8, 4.0, 2.8, 3.3
	if six {
		g["coilLowOhm"], g["coilHighOhm"], g["pairLowOhm"], g["pairHighOhm"] = 0.9, 1.6, 0.9, 1.6
	}
	if c.CoilOhm == nil {
		return
	}
	g["coilOhm"] = *c.CoilOhm
	ballast := 0.0
	switch {
	case c.BallastOhm != nil:
		ballast = *c.BallastOhm
		g["ballastOhm"] = ballast
	case c.Ballasted == nil || *c.Ballasted:
		return
	}
	g["totalOhm"] = *c.CoilOhm + ballast
	g["currentA"] = g["batteryV"] / g["totalOhm"]
	g["coilV"] = g["batteryV"] * *c.CoilOhm / g["totalOhm"]
	if ballast > 0 {
		g["ballastFeedV"] = g["coilV"]
	}
}

// book adds what the book says of this car.
func (g figures) book(c Car) {
	for name, v := range map[string]*float64{"gapMin": c.GapMinMm, "gapMax": c.GapMaxMm,
		"dwellMin": c.DwellMinDistDeg, "dwellMax": c.DwellMaxDistDeg, "base": c.BaseCrankDeg,
		"idleRPM": c.IdleEngineRPM} {
		if v != nil {
			g[name] = *v
		}
	}
	if c.Cylinders == 0 {
		return
	}
	g["cylinders"] = float64(c.Cylinders)
	g["pitch"] = 360 / float64(c.Cylinders)
	if c.IdleEngineRPM != nil {
		g["plugFlashes"] = *c.IdleEngineRPM / 2
		g["kingFlashes"] = g["plugFlashes"] * float64(c.Cylinders)
	}
}

// expected is what the test should show on this car: the first of its wordings
// whose condition holds and whose figures are all known.
func (t test) expected(c Car, g figures) string {
	for _, w := range t.Expected {
		if !c.is(w.When) {
			continue
		}
		if text, whole := g.fill(w.Say, c.FiringOrder); whole {
			return text
		}
	}
	return ""
}

// is tells whether a condition of a wording holds.
func (c Car) is(when string) bool {
	switch when {
	case "ballast":
		return c.Ballasted != nil && *c.Ballasted
	case "plain":
		return c.Ballasted != nil && !*c.Ballasted
	}
	return when == ""
}

// fill puts figures in place of names in braces; it tells whether it knew all.
func (g figures) fill(say, firingOrder string) (string, bool) {
	var b strings.Builder
	for {
		before, rest, more := strings.Cut(say, "{")
		b.WriteString(before)
		if !more {
			return b.String(), true
		}
		name, after, _ := strings.Cut(rest, "}")
		say = after
		v, is := g[name]
		switch {
		case is:
			b.WriteString(strconv.FormatFloat(rounded(v), 'f', -1, 64))
		case name == "firingOrder" && firingOrder != "":
			b.WriteString(firingOrder)
		default:
			return "", false
		}
	}
}

// rounded gives three digits, as a meter shows them, and whole numbers from a
// hundred on.
func rounded(v float64) float64 {
	text := strconv.FormatFloat(v, 'g', 3, 64)
	if v >= 100 {
		text = strconv.FormatFloat(v, 'f', 0, 64)
	}
	short, _ := strconv.ParseFloat(text, 64)
	return short
}

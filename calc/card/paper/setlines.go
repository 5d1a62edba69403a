package paper

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pointsmith/calc/card"
)

// setLines are the figures as they were left.
func setLines(c card.Card) []Line {
	a := c.AsSet
	if a == nil {
		return nil
	}
	gap := Line{asSet, "Points gap", withUnit(a.GapMm, "mm"), ""}
	if a.Gap != nil {
		gap = factLine(asSet, gap.Label, *a.Gap)
	}
	capsule := ""
	if a.Capsule != nil {
		capsule = capsuleWords(*a.Capsule)
	}
	return []Line{gap,
		{asSet, "Dwell", withUnit(a.DwellDistDeg, "distributor degrees"), ""},
		{asSet, "Mark used, what it means", a.Mark, ""},
		{asSet, "True TDC stands on the marks", markError(a.MarkErrorCrankDeg), ""},
		{asSet, "Static timing, engine stopped", side(a.StaticCrankDeg), ""},
		{asSet, "By strobe, at the low end", strobe(a.Strobe), ""},
		{asSet, "Total when all in", strobe(a.Total), ""},
		{asSet, "Total at light throttle, vacuum on", side(a.CruiseCrankDeg), ""},
		{asSet, "Began to pink at", side(a.KnockCrankDeg), ""},
		{asSet, "Margin kept to that", withUnit(a.MarginCrankDeg, "crank degrees"), ""},
		{asSet, "Vernier adjuster", a.Vernier, ""},
		{asSet, "Idle afterwards", speed(a.IdleEngineRPM), ""},
		idleVacuum(c),
		{asSet, "Vacuum capsule", capsule, ""}}
}

func withUnit(x *float64, unit string) string {
	if x == nil {
		return ""
	}
	return short(*x) + " " + unit
}

func side(deg *float64) string {
	if deg == nil {
		return ""
	}
	return beforeTDC(*deg)
}

func speed(x *float64) string {
	if x == nil {
		return ""
	}
	return rpm(*x) + " engine rpm"
}

func markError(deg *float64) string {
	switch {
	case deg == nil:
		return ""
	case *deg == 0:
		return "at the mark, error 0"
	case *deg > 0:
		return tenth(*deg) + "° after it"
	}
	return tenth(math.Abs(*deg)) + "° before it"
}

var pipes = map[string]string{"off": "vacuum pipe off", "connected": "vacuum connected", "": "vacuum pipe not said"}

func strobe(s *card.Strobe) string {
	if s == nil {
		return ""
	}
	return fmt.Sprintf("%s at %s engine rpm, %s", beforeTDC(s.CrankDeg), rpm(s.EngineRPM), pipes[s.Vacuum])
}

// kPaPerInHg and kPaPerMmHg: NIST SP 811, appendix B.8.
const (
	kPaPerInHg = 3.386389
	kPaPerMmHg = 0.1333224
)

// sameKPa: the card holds tenths of a kPa, so a typed figure within this is
// the same one. Half a tenth and a rounding error.
const sameKPa = 0.06

// idleVacuum is as it was typed where that says the same: a gauge is read in
// inHg, not in kPa.
func idleVacuum(c card.Card) Line {
	line := Line{asSet, "Manifold vacuum at idle", withUnit(c.AsSet.IdleVacuumKPa, "kPa"), ""}
	f, isThere := c.Car.Facts["idleVacuum"]
	if c.AsSet.IdleVacuumKPa == nil || !isThere {
		return line
	}
	if f.Unit == "" {
		f.Unit = "inHg"
	}
	size, err := strconv.ParseFloat(strings.Replace(f.Value, ",", ".", 1), 64)
	scale := map[string]float64{"inHg": kPaPerInHg, "mmHg": kPaPerMmHg, "kPa": 1}[f.Unit]
	if err != nil || scale == 0 || math.Abs(size*scale-*c.AsSet.IdleVacuumKPa) >= sameKPa {
		return line
	}
	return factLine(line.Group, line.Label, f)
}

func capsuleWords(c card.Capsule) string {
	var parts []string
	add := func(isSaid bool, words string) {
		if isSaid {
			parts = append(parts, words)
		}
	}
	add(c.Source == "none", "no pipe")
	add(c.Source != "none" && c.Source != "", c.Source+" vacuum")
	add(c.Code != "", "code "+c.Code)
	add(c.StartKPa != nil, "starts at "+withUnit(c.StartKPa, "kPa"))
	add(c.FullKPa != nil, "full at "+withUnit(c.FullKPa, "kPa"))
	add(c.MaxDistDeg != nil, "moves "+withUnit(c.MaxDistDeg, "distributor degrees"))
	if c.Holds != nil {
		add(*c.Holds, "holds")
		add(!*c.Holds, "does NOT hold")
	}
	return strings.Join(parts, ", ")
}

func firing(order []int) string {
	var b []string
	for _, cylinder := range order {
		b = append(b, strconv.Itoa(cylinder))
	}
	return strings.Join(b, "-")
}

package advance

import "fmt"

// ExpectIn asks what the strobe should say.
type ExpectIn struct {
	Spec      Spec      `json:"spec" need:"yes" help:"what the book says"`
	EngineRPM []float64 `json:"engineRPM" need:"yes" over:"0" max:"12000" minItems:"1" maxItems:"400" unit:"engine rpm" help:"the speeds asked for"`
}

// BandPoint is the book's band at one speed.
type BandPoint struct {
	EngineRPM   float64  `json:"engineRPM" unit:"engine rpm" help:"speed"`
	MinCrankDeg float64  `json:"minCrankDeg" unit:"crank degrees before TDC" help:"least total the book allows, vacuum off"`
	MaxCrankDeg float64  `json:"maxCrankDeg" unit:"crank degrees before TDC" help:"most total the book allows, vacuum off"`
	Held        bool     `json:"held,omitempty" help:"true where the speed lies outside the table and the end value is held"`
	Silent      bool     `json:"silent,omitempty" help:"true below the book's first speed, where it gives no figure: the end value is no demand there"`
	Least       *float64 `json:"leastCrankDeg,omitempty" unit:"crank degrees before TDC" help:"least total a sound distributor through the book's rows can show at this speed"`
	Most        *float64 `json:"mostCrankDeg,omitempty" unit:"crank degrees before TDC" help:"most total a sound distributor through the book's rows can show at this speed"`
	Note        string   `json:"note,omitempty" help:"why the end value is held"`
}

// ExpectOut is the band at each speed asked for, in the order asked.
type ExpectOut struct {
	Bands   []BandPoint `json:"bands" help:"totals before TDC, vacuum off and plugged"`
	Working []string    `json:"working" help:"the rule with these figures in it"`
	Sources []string    `json:"sources" help:"where the rule comes from"`
}

// Expect gives the total timing the book asks for at engine speeds, vacuum
// off, in crank degrees before TDC:
//
//	total = base ± tolerance + ratio × table(engine rpm / ratio)
//
// for a table in distributor degrees at distributor rpm without base; ratio
// is 2 unless the spec says otherwise; factors of 1 and no base stand where
// the table is already in crank degrees, engine rpm or holds the base.
// Between the book's points a straight line, outside them the end value. The
// book's figures stand at its points only, so beside them the answer gives the
// least and the most that a sound distributor through these points can show at
// each speed: a range of governors looked for by sampling, widened by the
// tolerance of the base. Judge uses that range.
// Refused: a table that falls as speed rises by more than one crank degree,
// two lines at one speed, min above max, a base that is needed but missing.
// Source: arithmetic; straight lines between points are common practice.
func Expect(in ExpectIn) (ExpectOut, error) {
	b, bad := bandOf(in.Spec)
	if bad != nil {
		return ExpectOut{}, bad
	}
	if bad := b.need(true); bad != nil {
		return ExpectOut{}, bad
	}
	out := ExpectOut{Sources: []string{"arithmetic of the drive ratio",
		"straight lines between the book's points: common practice"}}
	out.Bands = b.points(in.Spec, in.EngineRPM)
	out.Working = in.Spec.totalRule(b)
	for _, p := range out.Bands[:min(len(out.Bands), 3)] {
		out.Working = append(out.Working, in.Spec.totalAt(b, p))
	}
	return out, nil
}

// points gives the printed band at speeds, and beside it what a sound governor
// can do there.
func (b *band) points(s Spec, rpm []float64) []BandPoint {
	var out []BandPoint
	for i, k := range b.allowed(s, rpm) {
		low, high, held := b.printed(rpm[i], true)
		p := BandPoint{EngineRPM: rpm[i], MinCrankDeg: low, MaxCrankDeg: high, Held: held, Silent: b.silent(rpm[i])}
		k = b.allowedTotal(k)
		p.Least, p.Most = &k.low, &k.high
		if held {
			p.Note = b.heldNote(rpm[i])
		}
		out = append(out, p)
	}
	return out
}

func (s Spec) totalRule(b *band) []string {
	rule := "Total before TDC = "
	if s.Base == "excluded" {
		rule += "base + "
	}
	if s.AngleUnit == "distributor" {
		rule += fmt.Sprintf("%g × ", b.ratio)
	}
	rule += "table, read at "
	if s.SpeedUnit == "distributor" {
		rule += fmt.Sprintf("engine rpm / %g.", b.ratio)
	} else {
		rule += "engine rpm."
	}
	lines := []string{rule}
	if s.Base == "included" {
		lines = append(lines, "The table already holds the base, so nothing is added.")
	}
	return lines
}

// totalAt shows the sum at one speed with this car's figures.
func (s Spec) totalAt(b *band, p BandPoint) string {
	at := fmt.Sprintf("At %.0f engine rpm", p.EngineRPM)
	if p.Silent {
		return at + " the book gives no figure; its first figure is used."
	}
	if s.SpeedUnit == "distributor" {
		at += fmt.Sprintf(" (%.0f distributor rpm)", p.EngineRPM/b.ratio)
	}
	if s.Base == "included" {
		return fmt.Sprintf("%s the table gives %.1f to %.1f before TDC.", at, p.MinCrankDeg, p.MaxCrankDeg)
	}
	low, high, _ := b.printed(p.EngineRPM, false)
	sum := fmt.Sprintf("%s the table gives %.3g to %.3g %s degrees", at, low/s.angleFactor(),
		high/s.angleFactor(), s.AngleUnit)
	if s.BaseToleranceCrankDeg > 0 {
		return fmt.Sprintf("%s; %.3g ± %.3g of base makes %.1f to %.1f before TDC.", sum, *b.base,
			s.BaseToleranceCrankDeg, p.MinCrankDeg, p.MaxCrankDeg)
	}
	return fmt.Sprintf("%s; with %.3g of base %.1f to %.1f before TDC.", sum, *b.base, p.MinCrankDeg, p.MaxCrankDeg)
}

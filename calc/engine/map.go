package engine

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// MapIn is an engine over speed and manifold vacuum.
type MapIn struct {
	Engine    Engine    `json:"engine" need:"yes" help:"the engine"`
	Fuel      Fuel      `json:"fuel" need:"yes" help:"the worst fuel it will see"`
	Air       Air       `json:"air,omitempty" help:"the air it breathes"`
	Records   Records   `json:"records,omitempty" help:"knock heard and best timing found on this car"`
	EngineRPM []float64 `json:"engineRPM" need:"yes" minItems:"1" maxItems:"40" min:"300" max:"8000" unit:"engine rpm" help:"speeds, rising"`
	VacuumKPa []float64 `json:"vacuumKPa" need:"yes" minItems:"1" maxItems:"40" min:"0" max:"100" unit:"kPa below ambient" help:"manifold vacuums, rising; 0 is full throttle"`
	Curve     *Curve    `json:"curve,omitempty" help:"a curve to be laid over it, its capsule under the manifold's vacuum"`
	Coarse    bool      `json:"coarse,omitempty" help:"true: a first picture from few points, several times as quick; its ranges are rough"`

	EarliestCrankDeg *float64 `json:"earliestCrankDeg,omitempty" min:"0" max:"20" unit:"crank degrees" help:"how much before the mean the earliest cylinder of the distributor fitted now fires; taken as sound unless said"`
	DriveRatio       *float64 `json:"driveRatio,omitempty" min:"0.5" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// MapRow is one manifold vacuum over the speeds asked; each list is in their order.
type MapRow struct {
	VacuumKPa     float64   `json:"vacuumKPa" unit:"kPa below ambient" help:"manifold vacuum"`
	Load          float64   `json:"load" unit:"ratio" help:"the same as manifold pressure over the air's"`
	MBT           []float64 `json:"mbtCrankDeg" unit:"crank degrees" help:"timing of best torque, middle"`
	MBTLow        []float64 `json:"mbtLowCrankDeg" unit:"crank degrees" help:"one in twenty lies below"`
	MBTHigh       []float64 `json:"mbtHighCrankDeg" unit:"crank degrees" help:"one in twenty lies above"`
	KnockLimit    []float64 `json:"knockLimitCrankDeg" unit:"crank degrees" help:"where a trace of knock begins, middle; never more than 20 past best, where it is not looked for"`
	KnockLow      []float64 `json:"knockLimitLowCrankDeg" unit:"crank degrees" help:"one in twenty lies below"`
	KnockHigh     []float64 `json:"knockLimitHighCrankDeg" unit:"crank degrees" help:"one in twenty lies above"`
	Advice        []float64 `json:"adviceCrankDeg" unit:"crank degrees" help:"the earliest timing advised, mean of the cylinders"`
	LimitedBy     []string  `json:"limitedBy" enum:"best|knock" help:"by which it is limited"`
	Timing        []float64 `json:"timingCrankDeg,omitempty" unit:"crank degrees" help:"where a curve was given: what it has there"`
	Margin        []float64 `json:"marginCrankDeg,omitempty" unit:"crank degrees" help:"from its earliest cylinder to the low end of the knock limit; negative: past it"`
	Cost          []float64 `json:"costPercent,omitempty" unit:"percent" help:"torque it loses against the middle of best, about"`
	PerSquare     []float64 `json:"percentPerSquareDeg" unit:"percent per crank degree squared" help:"torque lost off best timing is about this times the square of the degrees"`
	FourLateLow   []float64 `json:"fourLateLowPercent" unit:"percent" help:"torque that four degrees late of the middle cost: one in twenty lies below"`
	FourLateHigh  []float64 `json:"fourLateHighPercent" unit:"percent" help:"one in twenty lies above"`
	EightLateLow  []float64 `json:"eightLateLowPercent" unit:"percent" help:"torque that eight degrees late of the middle cost: one in twenty lies below"`
	EightLateHigh []float64 `json:"eightLateHighPercent" unit:"percent" help:"one in twenty lies above"`
}

// MapOut is the whole map.
type MapOut struct {
	EngineRPM    []float64    `json:"engineRPM" unit:"engine rpm" help:"speeds as asked"`
	Rows         []MapRow     `json:"rows" help:"one for each vacuum, in the order asked"`
	Coarse       bool         `json:"coarse" help:"whether this is the first picture only"`
	WorthOfDraws float64      `json:"worthOfDraws" min:"0" max:"1" help:"part of the engines tried that the records leave"`
	Findings     finding.List `json:"findings" help:"what is concluded"`
	Asks         []string     `json:"asks" help:"what would have to be known"`
	Assumed      []string     `json:"assumed" help:"what was not said, with what is taken instead"`
	Sources      []string     `json:"sources" help:"where the rule comes from"`
}

// How fine a map is worked out. Between its points a curve without overshoot goes
// through the ends of the ranges; how near combustion.best it comes is measured in
// map_test.go.
const (
	fullDraws, fullSpeeds, fullLoads       = 48, 6, 5
	coarseDraws, coarseSpeeds, coarseLoads = 18, 4, 3
)

// layers of a map: figures that are carried from its points over all of it.
const layers = 11

// Map gives best timing, knock limit and the cost of lateness over speed and
// manifold vacuum, as combustion.best does at one point: ranges from fewer draws,
// at a few speeds and vacuums, with a smooth curve between. Refused: what Best
// refuses, and speeds or vacuums that do not rise.
func Map(in MapIn) (MapOut, error) {
	b, bad := in.Engine.body()
	if bad != nil {
		return MapOut{}, bad.Under("engine")
	}
	if bad := in.check(); bad != nil {
		return MapOut{}, bad
	}
	heard, best, asks, bad := in.Records.ready(in.Air)
	if bad != nil {
		return MapOut{}, bad
	}
	out := MapOut{EngineRPM: in.EngineRPM, Coarse: in.Coarse, WorthOfDraws: 1, Asks: asks,
		Assumed: assumed(in.Engine, in.Fuel, in.Air), Sources: sources}
	n, speeds, loads := fullDraws, fullSpeeds, fullLoads
	if in.Coarse {
		n, speeds, loads = coarseDraws, coarseSpeeds, coarseLoads
	}
	list := several(draws(n), 3*tries/n/2)
	if len(heard)+len(best) > 0 {
		all := b.posterior(draws(tries), heard, best)
		out.WorthOfDraws, list = left(all)/tries, alike(all, n)
	}
	var line []CurvePoint
	if in.Curve != nil {
		if line, bad = in.Curve.line(or(in.DriveRatio, 2)); bad != nil {
			return MapOut{}, bad.Under("curve")
		}
	}
	m := b.layers(in, list, heard, between(in.EngineRPM, speeds), between(in.loads(), loads))
	for i := range in.VacuumKPa {
		row := m.row(in, heard, i)
		if in.Curve != nil {
			row.lay(in, line)
		}
		out.Rows = append(out.Rows, row)
	}
	out.conclude()
	return out, nil
}

func (in MapIn) check() *refuse.Error {
	for _, list := range []struct {
		name   string
		values []float64
	}{{"engineRPM", in.EngineRPM}, {"vacuumKPa", in.VacuumKPa}} {
		for i := 1; i < len(list.values); i++ {
			if list.values[i] <= list.values[i-1] {
				return refuse.Input(fmt.Sprintf("%s[%d]", list.name, i), "does not rise", "more than the one before",
					"sort the list and leave out what stands twice")
			}
		}
	}
	for i, v := range in.VacuumKPa {
		if _, bad := (Load{VacuumKPa: &v}).ratio(in.Air); bad != nil {
			bad.Field = fmt.Sprintf("vacuumKPa[%d]", i)
			return bad
		}
	}
	return nil
}

// loads of the rows, rising: the vacuums turned round.
func (in MapIn) loads() []float64 {
	var out []float64
	for _, v := range slices.Backward(in.VacuumKPa) {
		out = append(out, 1-v/in.Air.kPa())
	}
	return out
}

// between gives at most n values over the span of a rising list, closer together
// where it begins, because timing changes faster there.
func between(list []float64, n int) []float64 {
	first, last := list[0], list[len(list)-1]
	if len(list) <= n {
		return list
	}
	out := make([]float64, n)
	for i := range out {
		out[i] = first * math.Pow(last/first, float64(i)/float64(n-1))
	}
	out[n-1] = last
	return out
}

// mapped holds each layer at every point that was worked out.
type mapped struct {
	speeds, loads []float64
	layer         [layers][][]float64 // by load, then speed
}

func (b body) layers(in MapIn, list []one, heard []listened, speeds, loads []float64) mapped {
	m := mapped{speeds: speeds, loads: loads}
	for k := range m.layer {
		m.layer[k] = make([][]float64, len(loads))
		for i := range loads {
			m.layer[k][i] = make([]float64, len(speeds))
		}
	}
	for i, load := range loads {
		for j, rpm := range speeds {
			c := conditionOf(rpm, load, in.Fuel, in.Air).away(heard)
			for k, x := range b.sample(c, list).point(c) {
				m.layer[k][i][j] = x
			}
		}
	}
	return m
}

// point gives the layers at one condition.
func (s sample) point(c condition) [layers]float64 {
	f := s.figures(nil, c)
	at := func(off float64) Range {
		return spread(s.values(func(p profile) float64 { return p.lost(c, f.MBTCrankDeg+off) }), s.list)
	}
	four, eight := at(-4), at(-8)
	square := spread(s.values(func(p profile) float64 { return p.lost(c, p.best-6) / 36 }), s.list).Middle
	return [layers]float64{f.MBTCrankDeg, f.MBTLowCrankDeg, f.MBTHighCrankDeg, f.KnockLimitCrankDeg,
		f.KnockLimitLowCrankDeg, f.KnockLimitHighCrankDeg, four.Low, four.High, eight.Low, eight.High, square}
}

// at gives one layer over all speeds asked at one load.
func (m mapped) at(k int, load float64, speeds []float64) []float64 {
	across := make([]float64, len(m.speeds))
	column := make([]float64, len(m.loads))
	for j := range m.speeds {
		for i := range m.loads {
			column[i] = m.layer[k][i][j]
		}
		across[j] = newSmooth(m.loads, column).at(load)
	}
	s := newSmooth(m.speeds, across)
	out := make([]float64, len(speeds))
	for j, rpm := range speeds {
		out[j] = s.at(rpm)
	}
	return out
}

func (m mapped) row(in MapIn, heard []listened, i int) MapRow {
	load := 1 - in.VacuumKPa[i]/in.Air.kPa()
	var l [layers][]float64
	for k := range l {
		l[k] = m.at(k, load, in.EngineRPM)
	}
	row := MapRow{VacuumKPa: in.VacuumKPa[i], Load: load, MBT: l[0], MBTLow: l[1], MBTHigh: l[2], KnockLimit: l[3],
		KnockLow: l[4], KnockHigh: l[5], FourLateLow: l[6], FourLateHigh: l[7], EightLateLow: l[8],
		EightLateHigh: l[9], PerSquare: l[10]}
	for j, rpm := range in.EngineRPM {
		most := capOf(heard, conditionOf(rpm, load, in.Fuel, in.Air))
		for _, limit := range [][]float64{row.KnockLimit, row.KnockLow, row.KnockHigh} {
			limit[j] = min(limit[j], most)
		}
		one := BestOut{Figures: Figures{MBTCrankDeg: row.MBT[j], KnockLimitLowCrankDeg: row.KnockLow[j], heardAt: most}}
		one.advise(or(in.EarliestCrankDeg, 0))
		row.Advice, row.LimitedBy = append(row.Advice, one.AdviceCrankDeg), append(row.LimitedBy, one.LimitedBy)
	}
	return row
}

// lay puts a curve over the row: what it has, its margin, and what it costs.
func (row *MapRow) lay(in MapIn, line []CurvePoint) {
	for j, rpm := range in.EngineRPM {
		deg := at(line, rpm) + in.Curve.capsule(or(in.DriveRatio, 2), row.VacuumKPa)
		off := deg - row.MBT[j]
		row.Timing = append(row.Timing, deg)
		row.Margin = append(row.Margin, row.KnockLow[j]-or(in.EarliestCrankDeg, 0)-deg)
		row.Cost = append(row.Cost, min(100, row.PerSquare[j]*off*off))
	}
}

// conclude says where knock stands before best timing.
func (out *MapOut) conclude() {
	knock, all := 0, 0
	for _, r := range out.Rows {
		for _, by := range r.LimitedBy {
			all++
			if by == "knock" {
				knock++
			}
		}
	}
	if knock == 0 {
		out.Findings.Add(finding.Finding{Code: "limited-by-best", Title: "Best timing comes before knock everywhere",
			Text:     "Nowhere on this map does the low end of the knock limit lie before best timing. " + estimate,
			Sureness: "possible", DisprovedBy: "knock heard on the road", Sources: out.Sources})
		return
	}
	out.Findings.Add(finding.Finding{Code: "limited-by-knock", Title: "Knock comes before best timing in a part of it",
		Text: fmt.Sprintf("At %d of %d points the low end of the knock limit lies before best timing; nothing is advised beyond it. %s",
			knock, all, estimate),
		Sureness: "possible", DisprovedBy: "a road test by the knock-safe method, two degrees at a time",
		Caution: "Stop at the first trace of knock and go back two to three degrees; never repeat a pull that knocked.",
		Sources: out.Sources})
}

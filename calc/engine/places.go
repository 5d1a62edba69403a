package engine

import "math"

// PlacesIn is an engine whose places of work are looked at.
type PlacesIn struct {
	Engine  Engine  `json:"engine" need:"yes" help:"the engine as it is now"`
	Fuel    Fuel    `json:"fuel" need:"yes" help:"the worst fuel it will see"`
	Air     Air     `json:"air,omitempty" help:"the air it breathes"`
	Records Records `json:"records,omitempty" help:"knock heard and best timing found on this car"`
	PartThrottle
}

// PartThrottle is where the engine idles and cruises.
type PartThrottle struct {
	IdleEngineRPM   *float64 `json:"idleEngineRPM,omitempty" min:"400" max:"1500" unit:"engine rpm" help:"idle; 800 unless said"`
	IdleVacuumKPa   *float64 `json:"idleVacuumKPa,omitempty" min:"10" max:"85" unit:"kPa below ambient" help:"manifold vacuum at idle; 57 for a standard cam, 47 mild, 37 hot unless said"`
	CruiseEngineRPM *float64 `json:"cruiseEngineRPM,omitempty" min:"1200" max:"4500" unit:"engine rpm" help:"speed of an easy cruise; 2500 unless said"`
	CruiseVacuumKPa *float64 `json:"cruiseVacuumKPa,omitempty" min:"10" max:"80" unit:"kPa below ambient" help:"manifold vacuum there; 45 unless said"`
}

// idle and cruise give speed and manifold vacuum there, what is usual where they
// are not said (common practice).
func (p PartThrottle) idle(cam string) where {
	return where{"idle", "idleVacuumKPa", or(p.IdleEngineRPM, 800), or(p.IdleVacuumKPa, idleVacuum[cam])}
}

func (p PartThrottle) cruise() where {
	return where{"cruise", "cruiseVacuumKPa", or(p.CruiseEngineRPM, 2500), or(p.CruiseVacuumKPa, 45)}
}

// tipIn is the throttle just opened, the capsule not yet let go.
var tipIn = where{"tip-in", "air.altitudeM", tipRPM, tipKPa}

// Place is one state the engine works in, and what it stands there.
type Place struct {
	Name             string      `json:"name" need:"yes" enum:"idle|full throttle|cruise|tip-in" help:"what the engine does there"`
	EngineRPM        float64     `json:"engineRPM" need:"yes" min:"300" max:"8000" unit:"engine rpm" help:"speed"`
	VacuumKPa        float64     `json:"vacuumKPa" min:"0" max:"100" unit:"kPa below ambient" help:"manifold vacuum"`
	MBTCrankDeg      float64     `json:"mbtCrankDeg" need:"yes" min:"-30" max:"90" unit:"crank degrees" help:"timing of best torque, middle"`
	MBTLowCrankDeg   float64     `json:"mbtLowCrankDeg" need:"yes" min:"-30" max:"90" unit:"crank degrees" help:"one in twenty lies below"`
	MBTHighCrankDeg  float64     `json:"mbtHighCrankDeg" need:"yes" min:"-30" max:"90" unit:"crank degrees" help:"one in twenty lies above"`
	KnockLowCrankDeg float64     `json:"knockLimitLowCrankDeg" need:"yes" min:"-60" max:"110" unit:"crank degrees" help:"low end of the knock limit, of the cylinder that fires first"`
	MostCrankDeg     float64     `json:"mostCrankDeg" need:"yes" min:"-60" max:"110" unit:"crank degrees" help:"earliest timing advised, of the cylinder that fires first: best timing, the low end of the knock limit, or two degrees from a knock that was heard"`
	HasKnockLimit    bool        `json:"hasKnockLimit" help:"whether knock lies within reach there: within 20 degrees past best; never said of idle, where road engines stand 30 degrees and more without it (common practice)"`
	Costs            []PlaceCost `json:"costs" maxItems:"24" help:"what timing off the middle of best takes of the torque, by rising timing; none at idle, where torque is nearly nothing"`
}

// PlaceCost is what one timing off best takes.
type PlaceCost struct {
	ErrorCrankDeg float64 `json:"errorCrankDeg" need:"yes" min:"-90" max:"90" unit:"crank degrees" help:"off the middle of best timing, late negative"`
	LowPercent    float64 `json:"lowPercent" need:"yes" min:"0" max:"100" unit:"percent" help:"torque lost: one in twenty lies below"`
	HighPercent   float64 `json:"highPercent" need:"yes" min:"0" max:"100" unit:"percent" help:"one in twenty lies above"`
}

// PlacesOut is what the engine stands at each of its places.
type PlacesOut struct {
	Places       []Place  `json:"places" help:"idle, full throttle by rising speed, cruise, tip-in"`
	WorthOfDraws float64  `json:"worthOfDraws" min:"0" max:"1" help:"part of the engines tried that the records leave"`
	Asks         []string `json:"asks" help:"what would have to be known"`
	Assumed      []string `json:"assumed" help:"what was not said, with what is taken instead"`
	Sources      []string `json:"sources" help:"where the rule comes from"`
}

// wideOpen are the speeds looked at with the throttle wide open, engine rpm: from
// where one may open it without lugging to where road engines stop pulling (chosen).
var wideOpen = []float64{1300, 1600, 2000, 2500, 3000, 3600, 4200, 4800}

// Places gives what the engine stands where it works: idle, full throttle over
// speed, an easy cruise, and tip-in. It is combustion.best at
// each, worked out once, so that Weigh can try curves against it at no cost.
// Refused: what Best refuses.
func Places(in PlacesIn) (PlacesOut, error) {
	b, bad := in.Engine.body()
	if bad != nil {
		return PlacesOut{}, bad.Under("engine")
	}
	heard, best, asks, bad := in.Records.ready(in.Air)
	if bad != nil {
		return PlacesOut{}, bad
	}
	out := PlacesOut{WorthOfDraws: 1, Asks: asks, Assumed: assumed(in.Engine, in.Fuel, in.Air), Sources: sources}
	list := draws(tries)
	if len(heard)+len(best) > 0 {
		list = b.posterior(list, heard, best)
		out.WorthOfDraws = left(list) / tries
	}
	for _, w := range in.where() {
		load, bad := Load{VacuumKPa: &w.vacuumKPa}.ratio(in.Air)
		if bad != nil {
			bad.Field = w.field
			return PlacesOut{}, bad
		}
		c := conditionOf(w.rpm, load, in.Fuel, in.Air).away(heard)
		out.Places = append(out.Places, b.sample(c, list).place(w, heard, c))
	}
	return out, nil
}

// where is a place of work before it is looked at.
type where struct {
	name, field    string
	rpm, vacuumKPa float64
}

func (in PlacesIn) where() []where {
	all := []where{in.idle(in.Engine.Cam)}
	for _, rpm := range wideOpen {
		all = append(all, where{"full throttle", "air.altitudeM", rpm, 0})
	}
	return append(all, in.cruise(), tipIn)
}

func (s sample) place(w where, heard []listened, c condition) Place {
	f := s.figures(heard, c)
	whole := BestOut{Figures: f}
	whole.advise(0)
	return Place{Name: w.name, EngineRPM: w.rpm, VacuumKPa: w.vacuumKPa, MBTCrankDeg: f.MBTCrankDeg,
		MBTLowCrankDeg: f.MBTLowCrankDeg, MBTHighCrankDeg: f.MBTHighCrankDeg,
		KnockLowCrankDeg: f.KnockLimitLowCrankDeg, MostCrankDeg: whole.AdviceCrankDeg,
		HasKnockLimit: w.name != "idle" && (f.KnockAtLeast != "low" || !math.IsInf(f.heardAt, 1)),
		Costs:         s.priced(w.name, c, f.MBTCrankDeg)}
}

// steps are the timings priced at each place, degrees off best: where the cost bends
// (chosen; between them a straight line, tested against the cycles).
var steps = []float64{-30, -24, -20, -16, -13, -10, -8, -6, -4, -2, 0, 2, 4, 6, 8, 10, 12, 14}

func (s sample) priced(name string, c condition, best float64) []PlaceCost {
	out := []PlaceCost{}
	if name == "idle" {
		return out
	}
	for _, off := range steps {
		cost := spread(s.values(func(p profile) float64 { return p.lost(c, best+off) }), s.list)
		out = append(out, PlaceCost{off, min(100, cost.Low), min(100, cost.High)})
	}
	return out
}

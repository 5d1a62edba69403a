package faults

import (
	"math"
	"math/rand/v2"
	"slices"
)

// physicsWorld draws cars by quantities: volts, kilovolts there and wanted,
// degrees, mixture, pressures. A fault moves quantities; symptoms and readings
// follow from the quantities and know nothing of the judge's tables.
type physicsWorld struct{ k *knowledge }

// machine is one car in quantities. What is 0 in a sound one is a departure.
type machine struct {
	// low tension
	feedV, startFeedV, pointsV, bodyV  float64 // lost, V
	breaks                             float64 // share of the time the circuit opens by itself
	breaksVacuum                       bool
	coil, coilHot, condenser, condHot  float64 // health, 1 = good
	current, chargeV, batteryV, strapV float64 // current relative to right; volts off
	polarity                           float64
	gap                                float64 // relative to the book's
	bounce                             float64 // share lost at high speed
	pitted                             float64
	trigger, triggerHot                float64
	// high tension
	rotorKV, capKV, capDampKV, leadKV     float64 // what they hold
	leadDampKV, leadOpenKV, pathKV, phase float64 // what they add to the demand
	kOhm                                  float64
	plugGap                               float64
	fouled                                int
	order                                 bool
	tooth                                 float64 // +1 a tooth early, -1 late
	// timing, crank degrees, early positive
	base, mark, curveLow, curveTop, stick, drift float64
	vacuum, vacuumIdle, plate                    float64 // 1 = right; idle degrees
	shaft, drive                                 float64
	foreign                                      bool
	// fuel: 1 = right mixture, lean below
	idle, mains, opening, flow, flood, vapour, leak, balance, fastIdle, stuck float64
	octane, stale                                                             float64
	// engine
	valve, gasket, rings, chain, lobe, back, heat, carbon, spring, drag, inlet, joint float64
}

func soundMachine(r *rand.Rand) *machine {
	n := func(s float64) float64 { return s * r.NormFloat64() }
	return &machine{feedV: 0.12 + math.Abs(n(.06)), startFeedV: .1, pointsV: .06 + math.Abs(n(.03)), bodyV: .02,
		coil: 1 + n(.03), coilHot: 1 + n(.03), condenser: 1, condHot: 1, current: 1 + n(.04), polarity: 1,
		gap:     1 + n(.06),
		trigger: 1, triggerHot: 1, rotorKV: 40, capKV: 40, capDampKV: 32, leadKV: 38, leadDampKV: 32, kOhm: 9 + n(2),
		plugGap: 1 + n(.06), base: n(1), mark: n(.4), curveLow: n(1), curveTop: n(1), stick: math.Abs(n(.5)),
		vacuum: 1 + n(.06),
		shaft:  .4 + math.Abs(n(.3)), drive: .4 + math.Abs(n(.3)), idle: 1 + n(.02), mains: 1 + n(.02),
		opening: 1 + n(.03),
		flow:    1 + math.Abs(n(.05)), octane: 1, strapV: .1, vapour: n(.05)}
}

// availableKV is what the coil gives: current from the volts that are left,
// energy by its square, kilovolts by the root of that.
func (m *machine) availableKV(when string) float64 {
	volts := 13.2
	if when == "crank" {
		volts = 10 + m.batteryV
	}
	lost := m.feedV
	if when == "crank" {
		lost = m.startFeedV
	}
	i := max((volts-lost-m.pointsV-m.bodyV)/13, 0) * math.Sqrt(m.current)
	fill := 1.0
	health := m.coil * m.condenser * m.trigger
	switch when {
	case "high":
		fill = .8 - .3*max(1.15-1/m.gap, 0) - m.bounce
	case "hot":
		health *= m.coilHot * m.condHot * m.triggerHot
	}
	kv := 27 * i * fill * math.Sqrt(max(health, 0)) * m.polarity
	kv = min(kv, m.rotorKV, m.capKV)
	if when == "damp" {
		kv = min(kv, m.capDampKV)
	}
	return kv
}

// wantedKV is what the worst plug asks.
func (m *machine) wantedKV(when string) float64 {
	base := map[string]float64{"idle": 8, "load": 14, "high": 11, "hot": 9, "crank": 11, "damp": 9}[when]
	return base*math.Pow(m.plugGap, .8) + m.leadOpenKV + m.pathKV + m.phase/4
}

// misses is how badly it misses then, 0 to 1.
func (m *machine) misses(when string) float64 {
	spare := m.availableKV(when) - m.wantedKV(when)
	return 1 / (1 + math.Exp(spare/1.2))
}

// oneMisses is the same of one cylinder: leads and plugs.
func (m *machine) oneMisses(when string) float64 {
	kv := min(m.availableKV(when), m.leadKV)
	if when == "damp" {
		kv = min(kv, m.leadDampKV)
	}
	if m.fouled > 0 {
		kv *= .55
	}
	return 1 / (1 + math.Exp((kv-m.wantedKV(when))/1.2))
}

// at gives the timing error at idle, low and top speeds, as the engine has it.
func (m *machine) early() (idle, low, top float64) {
	b := m.base + m.drift
	b += 18 * m.tooth
	return b + m.vacuumIdle + .7*m.stick, b + m.curveLow, b + m.curveTop
}

// feels gives how strongly each symptom is there.
func (m *machine) feels() map[string]float64 {
	idle, low, top := m.early()
	hi := func(x, from, to float64) float64 { return min(max((x-from)/(to-from), 0), 1) }
	lean, rich := hi(1-m.mains, .08, .25), hi(m.mains-1, .08, .25)
	leanIdle := hi(1-m.idle+m.leak, .08, .25)
	late, soon := hi(-(low+top)/2, 4, 10), hi(low, 4, 10)
	weakOne := max(m.valve, m.gasket*.8, m.lobe*.9)
	hot := max(m.heat, .6*late, .5*lean, .5*m.gasket, .6*m.back)
	knock := 1 - m.octane + .7*m.carbon + .3*m.heat + .3*lean
	f := map[string]float64{}
	f["S01"] = max(m.misses("load"), m.oneMisses("load")) * (1 - m.misses("idle"))
	f["S02"] = max(m.misses("high")*(1-m.misses("load")), m.bounce*2, m.spring*.8, hi(1-m.flow, .3, .6)*.5)
	f["S03"] = max(m.oneMisses("idle")*(1-m.misses("idle")), weakOne, m.balance*.3, .6*hi(m.leak, .1, .3),
		b2f(m.order)*.2)
	f["S04"] = max(m.misses("idle"), m.breaks*2, hi(m.shaft, 2, 5)*.6, hi(m.drive, 2, 5)*.3, m.pitted*.6, m.stale*.5,
		m.flood*.3)
	f["S05"] = max(hi(m.misses("hot")-m.misses("idle"), .3, .8), m.breaks*.5, hi(32-m.rotorKV, 15, 30)*.4)
	f["S06"] = max(hi(m.vapour, .3, .8), hi(1-m.flow, .3, .7)*.9, m.stale*.3, m.misses("hot")*.3)
	f["S07"] = max(m.misses("crank"), hi(rich, .3, .8)*.5, hi(1-m.flow, .5, .8)*.6, b2f(m.order)*.5,
		math.Abs(m.tooth)*.6, m.stale*.6,
		m.oneMisses("damp")*.3, leanIdle*.4)
	f["S08"] = max(hi(m.strapV-m.batteryV, .8, 3), hi(idle, 6, 14)*.3, m.rings*.2)
	f["S09"] = max(hi(m.feedV, 5, 9), hi(m.startFeedV, 5, 9)*.8)
	f["S10"] = max(hi(m.vapour, .2, .6), m.flood*.7, hi(m.misses("hot"), .4, .9)*.6, hi(idle, 6, 12)*.4, m.inlet*.4,
		hi(m.strapV, .6, 2)*.4)
	f["S11"] = max(hi(idle, 6, 14), math.Abs(m.tooth)*.3, b2f(m.order)*.3)
	f["S12"] = max(lean*.9, hi(m.leak, .1, .3)*.7, late*.5, m.valve*.5, hi(1-m.opening, .15, .4)*.6, m.spring*.5,
		b2f(m.order)*.6, m.chain*.5)
	f["S13"] = max(b2f(m.order), math.Abs(m.tooth), hi(m.chain, .5, 1)*.7)
	f["S14"] = max(m.joint, late*.5, rich*.5, m.oneMisses("load")*.4, hi(m.leak, .1, .3)*.4, m.valve*.3)
	f["S15"] = max(soon, hi(knock, .15, .5))
	f["S16"] = max(hi(top, 4, 10), hi(knock, .15, .5)*.8, lean*.6)
	f["S17"] = max(hi(m.vacuum-1, .15, .5), hi(m.vacuumIdle, 4, 10)*.6, soon*.5, lean*.4)
	f["S18"] = max(m.fastIdle, m.carbon*.8, hi(1-m.octane, .1, .4)*.5, m.heat*.4, late*.4)
	f["S19"] = max(leanIdle, weakOne, hi(rich, .3, .8)*.5, m.balance*.8, hi(m.shaft, 2, 5)*.7, m.pitted*.3,
		hi(m.oneMisses("idle"), .3, .8), m.rings*.4, m.spring*.3, m.flood*.4)
	f["S20"] = max(hi(m.stick, 3, 8), m.stuck, hi(m.drive, 2, 5)*.5, hi(m.leak, .1, .3)*.5, hi(m.vacuumIdle, 3, 8)*.5)
	f["S21"] = max(hi(1-m.opening, .15, .4), lean*.6, hi(1-m.vacuum, .4, .9)*.5, late*.4, m.inlet*.4,
		hi(m.vacuumIdle, 3, 8)*.3)
	f["S22"] = max(late, m.chain*.8, m.drag, m.back*.7, m.rings*.7, hi(-m.curveTop, 4, 10)*.7, lean*.4, m.lobe*.4,
		b2f(m.foreign)*.3)
	f["S23"] = max(hi(1-m.flow, .2, .5), hi(-top, 4, 10), m.spring, m.back, lean*.6, m.bounce*2, m.lobe*.4,
		m.misses("high")*.5)
	f["S24"] = max(rich, m.flood*.8, hi(1-m.vacuum, .4, .9)*.7, late*.6, m.drag*.7, m.inlet*.2, hi(-m.heat, .2, .6))
	f["S25"] = max(hot, hi(1-m.vacuum, .4, .9)*.3)
	f["S26"] = max(hi(m.shaft, 2, 4), hi(m.drive, 2, 4), m.breaks*.6)
	f["S27"] = max(hi(m.shaft, 3, 6)*.8, hi(m.phase, 10, 30)*.2)
	f["S28"] = max(hi(1-m.gap, .25, .6), hi(-m.drift, 3, 10))
	f["S29"] = max(hi(m.current, 1.3, 2), m.pitted*.7, hi(1-m.condenser, .2, .6)*.7, hi(m.chargeV, .6, 2)*.8)
	f["S30"] = max(hi(m.current, 1.3, 2), hi(m.chargeV, 1, 2)*.5, hi(1-m.gap, .3, .6)*.3)
	f["S31"] = max(hi(.25-m.trigger, 0, .2), hi(m.misses("crank"), .9, 1)*.8)
	f["S32"] = max(hi(m.misses("damp")-m.misses("idle"), .2, .7), hi(m.oneMisses("damp")-m.oneMisses("idle"), .2, .7))
	return f
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

type physicsCar struct {
	k    *knowledge
	m    *machine
	said []string
	seen map[int]int
	seed uint64 // of its answers
}

func (w physicsWorld) car(causes []int, r *rand.Rand) patient {
	r = ownChance(r)
	for try := 0; ; try++ {
		c := &physicsCar{k: w.k, m: soundMachine(r), seen: map[int]int{}, seed: r.Uint64()}
		for _, at := range causes {
			c.m.breakBy(w.k.causes[at].ID, r)
		}
		feels := c.m.feels()
		sum := 0.0
		for _, s := range w.k.symptoms {
			sum += max(feels[s.ID]-.2, 0)
		}
		if sum == 0 && try < 200 { // nobody brings a car that runs well
			continue
		}
		for range 1 + r.IntN(3) {
			at := draw(r, func(s int) float64 { return max(feels[w.k.symptoms[s].ID]-.2, 1e-6) }, len(w.k.symptoms))
			c.said = told1(c.said, w.k, at, .1, .2, r)
		}
		if len(c.said) == 0 {
			continue
		}
		slices.Sort(c.said)
		return c
	}
}

func (c *physicsCar) tells() []string { return c.said }

func (c *physicsCar) shows(test int) int {
	if o, done := c.seen[test]; done {
		return o
	}
	t := c.k.tests[test]
	chance := rand.New(rand.NewPCG(c.seed, uint64(test)))
	o := t.outcomeAt(c.m.reads(t.ID, chance))
	if chance.Float64() < .03 { // a slip
		o = chance.IntN(len(t.Outcomes))
	}
	c.seen[test] = o
	return o
}

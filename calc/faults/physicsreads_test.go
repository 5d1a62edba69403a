package faults

import (
	"math"
	"math/rand/v2"
)

// reads gives the outcome of a test from the quantities, with the scatter of
// the instrument. What the person sees decides, not which fault there is.
func (m *machine) reads(id string, r *rand.Rand) string {
	n := func(s float64) float64 { return s * r.NormFloat64() }
	seen := func(x float64) bool { return x+n(.12) > .35 } // by eye, by ear, by feel
	if out, is := m.electrics(id, n, seen); is {
		return out
	}
	if out, is := m.timing(id, n, seen, r); is {
		return out
	}
	return m.engine(id, n, seen, r)
}

// first is the first outcome whose condition holds.
func first(sound string, ways ...any) (string, bool) {
	for i := 0; i < len(ways); i += 2 {
		if ways[i+1].(bool) {
			return ways[i].(string), true
		}
	}
	return sound, true
}

func (m *machine) electrics(id string, n func(float64) float64, seen func(float64) bool) (string, bool) {
	worst := max(m.misses("load"), m.misses("idle"), m.misses("hot")*.6, m.misses("crank")*.5)
	oneWorst := max(m.oneMisses("load"), m.oneMisses("idle"))
	switch id {
	case "T1":
		kv := 40.0 // while it misses: in whatever state that is
		for _, when := range []string{"idle", "load", "high", "hot"} {
			if m.misses(when) > .4 {
				kv = min(kv, m.availableKV(when))
			}
		}
		weak := 1 - kv/20
		return first("steady", "coil-lead", seen(max(m.breaks, 1.2*weak*b2f(m.rotorKV > 20 && m.capKV > 25))),
			"one-lead", seen(max(oneWorst*b2f(m.fouled == 0 && m.leadKV < 30), worst*b2f(m.rotorKV < 20 ||
				m.capKV < 25 || m.phase > 10))))
	case "T2":
		return first("right", "low", m.feedV+n(.05) > .4, "high", m.pointsV+n(.2) > 5)
	case "T3":
		return first("right", "drop", m.pointsV+m.bodyV+n(.03) > .22, "dead", m.feedV > 8 || m.condHot < .15 &&
			seen(.3))
	case "T4":
		return first("same", "cured", m.feedV > .8 && seen(.6))
	case "T5":
		return first("same", "cured", seen(1.2*max(1-m.condenser-.2, 1-m.condHot-.3)))
	case "T6":
		kv := m.availableKV("idle") * (.6 + .4*m.coilHot)
		if m.rotorKV < 40 || m.capKV < 40 { // taken before rotor and cap
			whole := *m
			whole.rotorKV, whole.capKV = 40, 40
			kv = whole.availableKV("idle") * (.6 + .4*m.coilHot)
		}
		return first("good", "none", kv+n(1.5) < 5, "weak", kv+n(1.5) < 17 || seen(m.breaks))
	case "T7":
		return first("holds", "leaks", m.rotorKV+n(2) < 18)
	case "T8":
		return first("dark", "crawls", min(m.capDampKV, m.leadDampKV)+n(1.5) < 11)
	case "T28":
		return first("same", "cured", min(m.capDampKV, m.leadDampKV)+n(1.5) < 10)
	case "T29":
		return first("both", "one", math.Abs(m.feedV-m.startFeedV)+n(.5) > 6)
	case "T30":
		return first("right", "high", m.chargeV+n(.1) > .4, "low", m.batteryV+n(.5) < -1.8)
	case "T34":
		return first("right", "reversed", m.polarity+n(.04) < .87)
	case "T36":
		return first("low", "open", m.leadOpenKV+n(1) > 4 || m.leadKV < 9 && seen(.3), "added", m.kOhm+n(1) > 21)
	case "T37":
		return first("pair", "mismatch", math.Abs(math.Log(m.current))+n(.04) > .25, "coil", seen(1.3*(1-m.coil)))
	case "T38":
		return first("good", "bad", -m.batteryV+m.strapV+n(.15) > .6)
	case "T47":
		return first("same", "better", worst+oneWorst > .25 && m.fouled == 0 && seen(.5))
	case "T50":
		return first("good", "weak", m.bounce+n(.04) > .12, "burnt", seen(m.pitted))
	case "T53":
		return first("steady", "jumps", seen(m.breaks*1.6) || m.bodyV > .4)
	case "T54":
		return first("right", "off", seen(1-m.trigger) || seen(.8*(1-m.triggerHot)))
	case "T55":
		return first("whole", "bad", seen((32-m.capDampKV)/32), "side", seen(m.phase/40))
	case "T24":
		return first("same", "electric", seen(1-m.coilHot) || seen(1-m.condHot) || seen(1-m.triggerHot), "fuel",
			seen(m.vapour))
	case "T32":
		inside := max(m.pitted, m.breaks, b2f(m.pointsV > .4), m.bounce*2, 1-m.condenser, 1-m.condHot,
			math.Abs(m.curveLow)/8,
			math.Abs(m.curveTop)/8, m.stick/6, math.Abs(1-m.vacuum), m.plate, m.shaft/5-.2, math.Abs(1-m.gap),
			1-m.trigger,
			1-m.triggerHot, math.Abs(m.base)/14, m.phase/30, (40-m.rotorKV)/40, (40-m.capKV)/40, math.Abs(m.tooth)*.6)
		return first("same", "cured", seen(inside*.8))
	}
	return "", false
}

func (m *machine) timing(id string, n func(float64) float64, seen func(float64) bool, r *rand.Rand) (string, bool) {
	lamp := m.base + m.drift + m.mark + 18*m.tooth // what the strobe shows at idle, pipe off
	switch id {
	case "T9":
		return first("steady", "vacuum", m.breaksVacuum && seen(m.breaks*1.5) || seen(m.plate*.6), "speed",
			m.shaft*.9+m.bounce*8+n(.5) > 3)
	case "T10":
		return first("still", "two", seen(m.phase/60) && m.shaft < 2, "wanders", m.stick+n(1) > 5, "jumps",
			max(m.shaft, m.drive, m.chain*4, m.breaks*4)+n(.4) > 2)
	case "T11":
		return first("right", "jumps", m.vacuumIdle+n(1) > 3.5, "dead", m.vacuum+n(.08) < .4, "late", lamp+n(1) < -3.2,
			"early", lamp+n(1) > 3.2)
	case "T12":
		lowTop := []float64{m.curveLow + n(.8), m.curveTop + n(.8)}
		return first("in-band", "hangs", m.stick+n(.8) > 3, "early", lowTop[0] > 3 || lowTop[1] > 3.5, "short",
			lowTop[1] < -3.5 ||
				lowTop[0] < -3.5, "all-late", lamp+n(.8) < -3.2, "all-early", lamp+n(.8) > 3.2)
	case "T13":
		return first("true", "off", math.Abs(m.mark)+n(.5) > 2)
	case "T14":
		return first("holds", "leaks", m.vacuum+n(.07) < .5, "stuck", seen(m.plate) || m.vacuum+n(.07) > 1.2)
	case "T25":
		return first("meets", "misses", m.phase+n(3) > 9)
	case "T27":
		idle, low, top := m.early()
		knock := max(low, top, idle*.6)/8 + .25*(1-m.octane)
		return first("same", "gone", seen(knock*.7))
	case "T33":
		return first("right", "closed", m.gap+n(.05) < .82, "wide", m.gap+n(.05) > 1.2)
	case "T35":
		return first("right", "order", m.order && r.Float64() < .97, "rotor", m.tooth != 0 && r.Float64() < .97)
	case "T39":
		return first("brisk", "slow", seen(m.stick/8) || seen(-m.curveTop/18), "slack", seen(m.curveLow/18) ||
			seen(m.drive/12))
	case "T45":
		return first("holds", "moves", seen(-m.drift/9) && m.gap > .8)
	case "T49":
		return first("own", "other", m.foreign && seen(.7))
	}
	return "", false
}

func (m *machine) engine(id string, n func(float64) float64, seen func(float64) bool, r *rand.Rand) string {
	lean, rich := 1-m.mains, m.mains-1
	weakOne := max(m.valve, m.gasket, m.lobe, .5*m.spring)
	out := func(s string, _ bool) string { return s }
	switch id {
	case "T15":
		moves := max(b2f(m.fouled > 0)*.8, b2f(m.leadKV < 20)*.7, m.leadOpenKV/10)
		return out(first("equal", "moves", seen(moves), "stays", seen(max(weakOne, m.leak*2, m.balance*.5,
			m.rings*.4, b2f(m.order)*.5))))
	case "T16":
		return out(first("even", "rings", seen(m.rings), "neighbours", seen(m.gasket) && r.Float64() < .8, "valve",
			seen(max(m.valve, m.spring*.4)),
			"all-low", seen(m.chain)))
	case "T17":
		idle, _, _ := m.early()
		return out(first("steady", "falls", seen(m.back), "flicks", seen(weakOne), "low", seen(max(-idle/14,
			m.leak*2, m.chain, m.rings*.8)),
			"drifts", seen(max(math.Abs(m.idle-1)*2, m.flood*.6, m.balance*.4))))
	case "T18":
		return out(first("same", "changes", m.leak+n(.02) > .07))
	case "T19":
		return out(first("full", "poor", m.flow+n(.06) < .78 || seen(m.vapour*.4)))
	case "T20":
		return out(first("squirts", "dry", m.opening+n(.05) < .86, "dribbles", seen(max(m.flood, rich*1.2))))
	case "T21":
		return out(first("alike", "wrong", m.plugGap+n(.06) > 1.3 || m.fouled > 0 && seen(.6), "oily", seen(m.rings),
			"sooty",
			seen(max(rich*2, m.flood*.7)), "white", seen(lean*2), "specks", seen((m.curveTop-6)/8),
			"one", seen(max(weakOne*.7, m.leak*2, b2f(m.leadKV < 20)*.4))))
	case "T22":
		return out(first("same", "better", seen(max(lean*2.5, m.leak*2.5, (1-m.flow)*.8, 1-m.idle)), "worse",
			seen(max(rich*2, m.flood*.5))))
	case "T23":
		_, low, top := m.early()
		return out(first("even", "opening", seen(max((1-m.opening)*2, (1-m.vacuum)*.6, m.inlet*.4)),
			"steady", seen(max(lean*2, -(low+top)/20, (1-m.flow)*.7))))
	case "T26":
		return out(first("right", "chain", seen(max(m.chain, m.drive/10)), "clearances", seen(m.valve) &&
			r.Float64() < .8 || seen(m.lobe*.4)))
	case "T31":
		return out(first("free", "drags", seen(m.drag)))
	case "T40":
		return out(first("even", "uneven", seen(m.balance)))
	case "T41":
		return out(first("right", "bubbles", seen(m.gasket*.7), "hot", seen(math.Abs(m.heat)) || seen(m.gasket*.4)))
	case "T42":
		return out(first("free", "stuck", seen(m.inlet)))
	case "T43":
		return out(first("tight", "blows", seen(m.joint)))
	case "T44":
		return out(first("shuts", "sticks", seen(m.stuck)))
	case "T46":
		return out(first("same", "cured", seen(max(m.stale, 1.5*(1-m.octane), (1-m.flow)*.8))))
	case "T48":
		return out(first("alike", "low", seen(m.lobe), "slow", seen(m.spring)))
	case "T51":
		return out(first("right", "fast", seen(max(m.fastIdle, m.stuck*.7))))
	case "T52":
		return out(first("thin", "thick", seen(m.carbon)))
	}
	panic("no reading for " + id)
}

package faults

import "math/rand/v2"

// breakBy moves the quantities of a machine as a cause does, by an amount that
// differs from car to car.
func (m *machine) breakBy(id string, r *rand.Rand) {
	u := func(from, to float64) float64 { return from + (to-from)*r.Float64() }
	one := func(p float64) bool { return r.Float64() < p }
	switch id {
	case "IG01":
		m.gap *= u(.35, .7)
		m.drift -= u(2, 7)
	case "IG02":
		m.pointsV += u(.4, 5)
		m.pitted = u(.4, 1)
	case "IG03":
		m.bounce = u(.15, .5)
	case "IG04":
		m.condenser = u(.1, .4)
		m.pitted += u(0, .5)
	case "IG05":
		m.condHot = u(.05, .3)
		m.condenser = u(.6, 1)
	case "IG06":
		m.coilHot = u(.1, .4)
		m.coil = u(.4, 1)
	case "IG07":
		m.current = []float64{u(.35, .6), u(1.5, 2.2)}[r.IntN(2)]
	case "IG08":
		m.feedV += u(1, 6)
		m.startFeedV += u(.5, 5)
	case "IG09":
		m.bodyV += u(0, 2)
		m.breaks, m.breaksVacuum = u(.2, .6), one(.7)
	case "IG10":
		m.rotorKV = u(3, 12)
	case "IG11":
		m.capKV, m.capDampKV = u(9, 30), u(3, 9)
	case "IG12":
		if one(.5) {
			m.leadOpenKV = u(4, 12)
		}
		m.leadKV, m.leadDampKV = u(7, 14), u(4, 9)
	case "IG13":
		m.order = true
	case "IG14":
		if one(.6) {
			m.fouled = 1 + r.IntN(2)
		} else {
			m.plugGap = u(1.5, 2.2)
		}
	case "IG15":
		m.base -= u(5, 12)
	case "IG16":
		m.base += u(5, 12)
	case "IG17":
		m.curveTop -= u(6, 16)
		m.curveLow -= u(0, 5)
	case "IG18":
		m.curveLow += u(4, 10)
		m.curveTop += u(0, 8)
	case "IG19":
		m.stick = u(4, 12)
	case "IG20":
		m.vacuum = u(0, .3)
		m.leak += u(0, .06)
	case "IG21":
		if one(.5) {
			m.vacuum = u(1.3, 1.9)
		}
		m.vacuumIdle, m.plate = u(4, 14), u(.3, 1)
	case "IG22":
		m.shaft = u(3, 8)
	case "IG23":
		m.drive = u(3, 8)
	case "IG24":
		m.polarity = u(.6, .8)
	case "IG25":
		m.mark = u(5, 15) * float64(1-2*r.IntN(2))
		m.base -= m.mark
	case "IG26":
		m.triggerHot = u(.05, .4)
		if one(.4) {
			m.trigger = u(0, .3)
		}
	case "IG27":
		m.phase = u(15, 45)
	case "IG28":
		m.foreign = true
		m.curveTop += u(4, 10) * float64(1-2*r.IntN(2))
		m.curveLow += u(2, 6) * float64(1-2*r.IntN(2))
	case "IG29":
		if one(.5) {
			m.feedV += u(8, 13)
		} else {
			m.startFeedV += u(8, 11)
		}
	case "IG30":
		m.kOhm, m.pathKV = u(28, 60), u(3, 9)
	case "IG31":
		m.tooth = float64(1 - 2*r.IntN(2))
	case "IG32":
		m.drift -= u(4, 12)
	case "IG33":
		m.chargeV = u(.8, 2.5)
		m.pitted += u(0, .4)
	default:
		m.breakOther(id, u, one)
	}
}

// breakOther is for fuel and engine.
func (m *machine) breakOther(id string, u func(a, b float64) float64, one func(float64) bool) {
	switch id {
	case "FU01":
		m.mains -= u(.12, .3)
		m.idle -= u(0, .3)
	case "FU02":
		m.mains += u(.15, .4)
		m.idle += u(.1, .4)
	case "FU03":
		m.flood = u(.4, 1)
		m.mains += u(-.2, .25)
	case "FU04":
		m.flow = u(.1, .65)
	case "FU05":
		m.vapour = u(.4, 1)
	case "FU06":
		m.leak = u(.1, .35)
	case "FU07":
		m.opening = u(.5, .8)
	case "FU08":
		if one(.5) {
			m.octane = u(.5, .8)
		} else {
			m.stale = u(.5, 1)
		}
	case "FU09":
		m.balance = u(.5, 1)
	case "FU10":
		m.fastIdle = u(.5, 1)
	case "FU11":
		m.stuck, m.fastIdle = u(.5, 1), u(0, .5)
	case "ME01":
		m.valve = u(.4, 1)
	case "ME02":
		m.gasket = u(.4, 1)
	case "ME03":
		m.rings = u(.5, 1)
	case "ME04":
		m.chain = u(.5, 1)
	case "ME05":
		m.lobe = u(.4, 1)
	case "ME06":
		m.back = u(.4, 1)
	case "ME07":
		m.heat = u(.4, 1)
		if one(.25) {
			m.heat = -u(.4, 1)
		}
	case "ME08":
		m.carbon = u(.4, 1)
	case "ME09":
		m.batteryV, m.strapV = -u(.5, 4), u(.1, 1.5)
	case "ME10":
		m.spring = u(.4, 1)
	case "ME11":
		m.drag = u(.4, 1)
	case "ME12":
		m.inlet = u(.4, 1)
		if one(.5) {
			m.vapour += u(.2, .6)
		}
	case "ME13":
		m.joint = u(.4, 1)
	}
}

package cycle

// Trace gives, beside Cycle's answer, the pressure over p1 and the part burned at crank degrees that rise from −180 to
// 180. They are taken inside the very steps of Cycle, so its highest pressure stands at its angle. Refused: as Cycle.
func Trace(in CycleIn, crankDeg []float64) (pressure, burned []float64, err error) {
	g, bad := in.gas()
	if bad != nil {
		return nil, nil, bad
	}
	pressure, burned = make([]float64, len(crankDeg)), make([]float64, len(crankDeg))
	next := 0
	f := slope(g.slope)
	end := g.steps(f, func(s taken) {
		for ; next < len(crankDeg) && crankDeg[next] <= s.deg+s.h; next++ {
			at := s.y
			if h := crankDeg[next] - s.deg; h > 0 {
				at, _, _ = f.try(s.deg, h, s.y, s.first)
			}
			pressure[next] = at[0]
		}
	})
	for ; next < len(crankDeg); next++ { // an end that the last step missed by the last bit
		pressure[next] = end[0]
	}
	for i, deg := range crankDeg {
		burned[i], _ = g.burn.Burned(deg)
	}
	return pressure, burned, nil
}

// Burning is how the charge of a cycle burns.
func (in CycleIn) Burning() Wiebe { return in.wiebe() }

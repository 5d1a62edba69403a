package advance

import "slices"

// median is the middle of the values, the mean of the two middle ones for an
// even count, and 0 for none.
func median(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	v := slices.Clone(values)
	slices.Sort(v)
	mid := len(v) / 2
	if len(v)%2 == 1 {
		return v[mid]
	}
	return (v[mid-1] + v[mid]) / 2
}

// measuredAt reads a run of readings at a speed: a straight line between the
// readings, the end value outside them. ok is false more than a tenth (chosen)
// below the first reading, or above the last when the run was still climbing.
func measuredAt(run []reading, rpm float64) (deg float64, ok bool) {
	n := len(run)
	switch {
	case n == 0:
		return 0, false
	case rpm <= run[0].rpm:
		return run[0].deg, rpm >= 0.9*run[0].rpm
	case rpm >= run[n-1].rpm:
		level := n > 1 && abs(run[n-1].deg-run[n-2].deg) <= run[n-1].err
		return run[n-1].deg, level || rpm <= 1.1*run[n-1].rpm
	}
	i := 1
	for run[i].rpm < rpm {
		i++
	}
	if run[i].rpm == run[i-1].rpm {
		return run[i].deg, true
	}
	x := (rpm - run[i-1].rpm) / (run[i].rpm - run[i-1].rpm)
	return run[i-1].deg + x*(run[i].deg-run[i-1].deg), true
}

// pick gives the readings that answer to want, sorted by speed.
func pick(readings []reading, want func(reading) bool) []reading {
	var out []reading
	for _, r := range readings {
		if want(r) {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b reading) int {
		switch {
		case a.rpm < b.rpm:
			return -1
		case a.rpm > b.rpm:
			return 1
		}
		return 0
	})
	return out
}

// through gives the model's curve at speeds, sorted and without repeats.
func (m Model) through(speeds []float64) []CurvePoint {
	slices.Sort(speeds)
	out := []CurvePoint{}
	for i, rpm := range speeds {
		if i > 0 && rpm == speeds[i-1] {
			continue
		}
		out = append(out, CurvePoint{DistRPM: rpm, DistDeg: m.at(rpm)})
	}
	return out
}

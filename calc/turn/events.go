package turn

import (
	"cmp"
	"slices"

	"pointsmith/calc/refuse"
)

// moments are the events of the cycle, in no order.
func (r *run) moments() []Event {
	out := []Event{r.first(-360, TDCOverlap), r.first(bottom, BDCInlet), r.first(0, TDCFiring),
		r.first(-bottom, BDCPower)}
	if f := r.fire; f != nil {
		for _, part := range []struct {
			x    float64
			name string
		}{{0.1, TenBurnt}, {0.5, HalfBurnt}, {0.9, NinetyBurnt}} {
			if deg := f.wiebe.At(part.x); deg < -bottom {
				out = append(out, r.first(deg, part.name))
			}
		}
		out = append(out, r.first(f.peakDeg, PeakPressure))
	}
	if r.out.Timing == nil {
		return out
	}
	if at := onto(-r.out.Timing.SparkCrankDeg); r.set == nil {
		return append(out, r.first(at, Spark))
	}
	return append(out, r.contacts()...)
}

// contacts are the events of the points.
func (r *run) contacts() []Event {
	var out []Event
	s := r.set
	for i, at := range s.openings() {
		e := Event{CrankDeg: at, Name: Spark, Place: i%*r.in.Cylinders + 1}
		if i >= *r.in.Cylinders {
			e.Name = WastedSpark
		}
		if order := r.in.FiringOrder; len(order) > 0 {
			e.Cylinder = &order[e.Place-1]
		} else if e.Place == 1 {
			e.Cylinder = number(1)
		}
		out = append(out, e)
	}
	if ms := r.in.SparkMs; ms != nil {
		out = append(out, r.first(onto(s.at+*ms*r.out.DegPerMs), SparkEnds))
	}
	if s.dwellDist == 0 {
		return out
	}
	closes := s.at - s.closed
	out = append(out, r.first(onto(s.at), PointsOpen), r.first(onto(closes), PointsClose))
	if s.bounce > 0 {
		out = append(out, r.first(onto(closes-s.bounce), PointsBounce))
	}
	return out
}

// first is an event of No. 1.
func (r *run) first(deg float64, name string) Event {
	return Event{CrankDeg: deg, Name: name, Place: 1, Cylinder: number(1)}
}

func number(n int) *int { return &n }

// events puts the moments in order; of those at one angle the points come before the spark.
func (r *run) events() {
	list := r.moments()
	slices.SortStableFunc(list, func(a, b Event) int {
		return cmp.Or(cmp.Compare(a.CrankDeg, b.CrankDeg), cmp.Compare(a.Name, b.Name))
	})
	r.out.Events = list
	if f := r.fire; f != nil && f.wiebe.At(0.9) >= -bottom {
		r.leave("90 % burnt", refuse.Input("vacuumKPa", "the exhaust valve opens before nine tenths are burnt",
			"a faster burning", "an earlier spark or less vacuum burns sooner"))
	}
}

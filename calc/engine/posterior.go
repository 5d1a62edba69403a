package engine

import "math"

// posterior weighs the draws by what was recorded. Each draw's readiness to knock
// is worked out rather than tried: its logarithm s has the normal law beforehand,
// a knock heard at a spark says that s is at most the logarithm of the knock
// integral there, and by a half-normal law not much below it; so s follows a
// normal law cut off at the least of these, and the draw weighs what that makes
// of the record. How knock changes with speed is gone through beside it. Nothing
// outvotes a heard knock: no draw is left in which the knock could not have been.
// What was not heard may have been missed.
func (b body) posterior(list []one, heard []listened, best []found) []one {
	if len(heard)+len(best) == 0 {
		return list
	}
	logs := make([]float64, len(list))
	out := make([]one, len(list))
	for n, o := range list {
		for _, f := range best {
			off := (b.profile(f.condition, o).best - f.spark) / f.within
			// Beyond four a record is no more against a draw: it may be a slip (chosen).
			logs[n] += -min(off*off, 16) / 2
		}
		out[n] = o
		logs[n] += b.listen(&out[n], heard)
	}
	most := math.Inf(-1)
	for _, l := range logs {
		most = max(most, l)
	}
	sum := 0.0
	for n := range out {
		out[n].weight *= math.Exp(logs[n] - most)
		sum += out[n].weight
	}
	for n := range out {
		out[n].weight /= sum
	}
	return out
}

// at gives the logarithm of the knock integral of a record in one draw, and how
// it grows with the spark.
func (b body) at(l listened, o one) (ln, perDeg float64) {
	const apart = 3.0
	y := b.cylinder(l.condition, o)
	ln = y.run(l.spark).lnKnock
	return ln, max(0.01, (ln-y.run(l.spark-apart).lnKnock)/apart)
}

// ear is what the records say to one draw.
type ear struct {
	heard, none []atRecord
}

// atRecord is one record in one draw: the logarithm of the knock integral, how it
// grows with the spark, how far past its beginning it may have been, and the place
// of its speed in the trend.
type atRecord struct{ ln, perDeg, within, trend float64 }

// readiness is the law of s for one trend: normal, cut off above.
type readiness struct{ mean, spread, cut, weight float64 }

// listen sets the draw's readiness to knock, and its trend over speed, by the
// records, from the same places in their laws as before, and gives the logarithm of
// its weight. The trend is gone through in steps of even likelihood.
func (b body) listen(o *one, heard []listened) float64 {
	if len(heard) == 0 {
		return 0
	}
	var e ear
	for _, l := range heard {
		ln, perDeg := b.at(l, *o)
		one := atRecord{ln, perDeg, perDeg * l.stepped, uncertain[zTrend].sd * math.Log(l.rpm/2500)}
		if l.heard {
			e.heard = append(e.heard, one)
		} else {
			e.none = append(e.none, one)
		}
	}
	place := phi(o.z[zKnock])
	var laws [trends]readiness
	var s, z [trends]float64
	most := math.Inf(-1)
	for k := range laws {
		z[k] = normal((float64(k) + 0.5) / trends)
		laws[k] = e.readiness(z[k])
		s[k] = laws[k].at(place)
		laws[k].weight += e.silence(s[k], z[k])
		most = max(most, laws[k].weight)
	}
	sum := 0.0
	for k := range laws {
		laws[k].weight = math.Exp(laws[k].weight - most)
		sum += laws[k].weight
	}
	want, k := phi(o.z[zTrend])*sum, 0
	for ; k < trends-1 && want > laws[k].weight; k++ {
		want -= laws[k].weight
	}
	o.z[zKnock], o.z[zTrend] = (s[k]-knockMiddle)/uncertain[zKnock].sd, z[k]
	return most + math.Log(sum/trends)
}

// trends is in how many steps the trend is gone through (chosen: finer than matters).
const trends = 48

// readiness gives the law of s beside one trend, and the logarithm of what the
// records weigh it.
func (e ear) readiness(trend float64) readiness {
	sd := uncertain[zKnock].sd
	r := readiness{mean: knockMiddle, cut: math.Inf(1)}
	precision := 1 / (sd * sd)
	for _, h := range e.heard {
		ln := h.ln - trend*h.trend
		r.cut = min(r.cut, ln)
		// The product of two normal laws is one again; its height is the weight.
		both := 1/precision + h.within*h.within
		r.weight += -0.5*math.Log(both) - (ln-r.mean)*(ln-r.mean)/2/both
		r.mean = (r.mean*precision + ln/(h.within*h.within)) / (precision + 1/(h.within*h.within))
		precision += 1 / (h.within * h.within)
	}
	r.spread = 1 / math.Sqrt(precision)
	if len(e.heard) > 0 {
		r.weight += math.Log(max(phi((r.cut-r.mean)/r.spread), 1e-300))
	}
	return r
}

// at gives s at a place (0 to 1) in the law.
func (r readiness) at(place float64) float64 {
	if math.IsInf(r.cut, 1) {
		return r.mean + r.spread*normal(place)
	}
	return r.mean + r.spread*below((r.cut-r.mean)/r.spread, place)
}

// silence is the logarithm of what the records without knock weigh.
func (e ear) silence(s, trend float64) (sum float64) {
	for _, q := range e.none {
		sum += math.Log(missed + (1-missed)*phi((s-q.ln+trend*q.trend)/(q.perDeg*noneWithin)))
	}
	return sum
}

// below gives the place u (0 to 1) in a standard normal law cut off above at edge.
func below(edge, u float64) float64 {
	if edge < -5 { // the tail falls like e^(edge × x) there
		return edge + math.Log(max(u, 1e-9))/-edge
	}
	return min(edge, normal(u*phi(edge)))
}

// alike gives n draws of even weight that stand for a weighted list: systematic
// resampling, always the same.
func alike(list []one, n int) []one {
	out := make([]one, 0, n)
	sum, at := 0.0, 0
	for k := range n {
		want := (float64(k) + 0.5) / float64(n)
		for at < len(list)-1 && sum+list[at].weight < want {
			sum += list[at].weight
			at++
		}
		o := list[at]
		o.weight = 1 / float64(n)
		out = append(out, o)
	}
	return out
}

// left is how many even draws the weighted ones are worth.
func left(list []one) float64 {
	square := 0.0
	for _, o := range list {
		square += o.weight * o.weight
	}
	return 1 / square
}

package engine

import "math"

// posterior weighs the draws by what was recorded. Each draw's readiness to knock
// is worked out rather than tried: its logarithm s has the normal law beforehand,
// a knock heard at a spark says that s is at most the logarithm of the knock
// integral there, and by a half-normal law not much below it; so s follows a
// normal law cut off at the least of these, and the draw weighs what that makes
// of the record. Nothing outvotes a heard knock: no draw is left in which the
// knock could not have been. What was not heard may have been missed.
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

// listen sets the draw's readiness to knock by the records, from the same place
// in its law as before, and gives the logarithm of its weight.
func (b body) listen(o *one, heard []listened) float64 {
	sd := uncertain[zKnock].sd
	sum, mean, precision := 0.0, 0.0, 1/(sd*sd)
	cut := math.Inf(1)
	type silence struct{ ln, perDeg float64 }
	var none []silence
	for _, l := range heard {
		ln, perDeg := b.at(l, *o)
		if !l.heard {
			none = append(none, silence{ln, perDeg})
			continue
		}
		cut = min(cut, ln)
		within := perDeg * l.stepped
		// The product of two normal laws is one again; its height is the draw's weight.
		before := 1 / precision
		sum += -0.5*math.Log(before+within*within) - (ln-mean)*(ln-mean)/2/(before+within*within)
		mean = (mean*precision + ln/(within*within)) / (precision + 1/(within*within))
		precision += 1 / (within * within)
	}
	s := sd * o.z[zKnock]
	if !math.IsInf(cut, 1) {
		spread := 1 / math.Sqrt(precision)
		edge := (cut - mean) / spread
		part := phi(edge)
		sum += math.Log(max(part, 1e-300))
		s = mean + spread*below(edge, phi(o.z[zKnock]))
	}
	for _, q := range none {
		sum += math.Log(missed + (1-missed)*phi((s-q.ln)/(q.perDeg*noneWithin)))
	}
	o.z[zKnock] = s / sd
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

package infer

// findSlips weighs for each figure how likely it is a slip.
func (r *Result) findSlips() {
	r.Slips, r.Static = make([]float64, len(r.q.readings)), make([]float64, len(r.q.statics))
	total := 0.0
	for _, d := range r.drawn {
		every := max(1, len(d.s.at)/(4*perAccount))
		each := d.share / float64((len(d.s.at)+every-1)/every)
		total += d.share
		for i := 0; i < len(d.s.at); i += every {
			x := &d.s.at[i]
			v, spread := r.q.viewOf(d.acc, x), exp(x[spreadAt])
			for k := range r.q.readings {
				h := &r.q.readings[k]
				deg, scale := v.expected(h)
				r.Slips[k] += each * slipChance(h.deg-deg, h.sd, spread, scale)
			}
			for k, s := range r.q.statics {
				sd := s.sd()
				r.Static[k] += each * slipShare / slipWidth / normalOrSlip(s.Deg-v.base, sd)
			}
		}
	}
	for k := range r.Slips {
		r.Slips[k] /= max(total, leastShare)
	}
	for k := range r.Static {
		r.Static[k] /= max(total, leastShare)
	}
}

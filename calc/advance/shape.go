package advance

// findShape reads the shape of the curve from the best evidence there is:
// readings without base; else readings with base less a known base; else the
// car's readings under every base that leaves one clean fault.
func (c *court) findShape() {
	bench, car := c.curveRun(false), c.curveRun(true)
	switch {
	case len(bench) > 0:
		c.shape = shapeOf(c.deviations(bench, 0))
		c.bySticking(false)
		if c.shape.shape == "in-band" && !c.base.known() && c.clash == nil && c.wander == nil && len(car) > 0 {
			c.base = c.benchAndCar()
		}
		if c.ringOff && len(car) > 0 && c.clash == nil {
			c.besideTheRing(car)
		}
	case len(car) == 0:
		c.shape = shapeFinding{shape: "in-band"}
	case idleOnly(car, c.band) && len(c.band.advance) > 0:
		c.byIdle(car)
	case nearlyOneSpeed(car) && !c.base.known() && len(c.band.advance) > 0:
		c.byIdle(car)
	case nearlyOneSpeed(car):
		c.shape = shapeOf(c.deviations(car, c.lampOffset(car)))
	case c.base.known() && c.band.base != nil:
		c.shape = classify(c.deviations(car, c.base.value-*c.band.base))
		c.bySticking(true)
		c.lampAgainstStrobe()
	case c.clash != nil: // two lamp figures apart: the curve is judged under neither
		c.shape = classify(c.deviations(car, 0))
	default:
		c.byCarAlone(car)
		c.bySticking(true)
	}
	if c.base.known() {
		c.report(c.base)
	}
	c.out.Shape = c.shape.shape
}

// besideTheRing: the bench's zero has moved, so the car alone says where the
// base is: against the lamp where that was proved, else under the book's curve.
func (c *court) besideTheRing(car []reading) {
	bench := c.shape
	if c.band.base != nil && c.base.known() {
		c.shape = classify(c.deviations(car, c.base.value-*c.band.base))
		c.carRight = c.shape.shape == "in-band"
		c.lampAgainstStrobe()
	} else if c.band.base != nil {
		devs := c.deviations(car, 0)
		switch classify(devs).shape {
		case "in-band":
			c.carRight = true
			c.baseFromBand("in band", devs)
		case "base-only":
			c.baseFromBand("constant offset", devs)
		}
	}
	c.shape = bench
}

// ringAlone: a moved ring is all that is wrong.
func (c *court) ringAlone() bool { return c.ringOff && c.shape.shape == "base-only" }

// nearlyOneSpeed: readings less than a fifth apart (chosen) show no shape.
func nearlyOneSpeed(run []reading) bool {
	return len(run) > 0 && run[len(run)-1].rpm < 1.2*run[0].rpm
}

// oneSpeed tells whether the run judged was read at nearly one speed, or at
// idle only.
func (c *court) oneSpeed() bool {
	run := c.curveRun(false)
	if len(run) == 0 {
		run = c.curveRun(true)
		return nearlyOneSpeed(run) || idleOnly(run, c.band)
	}
	return nearlyOneSpeed(run)
}

// shapeOf names the shape, but of readings at one speed only whether one is
// out: that one is to be taken again, beside others.
func shapeOf(devs []dev) shapeFinding {
	if nearlyOneSpeed(readingsOf(devs)) {
		return shapeless(devs)
	}
	return classify(devs)
}

func shapeless(devs []dev) shapeFinding {
	f := shapeFinding{shape: "in-band", devs: devs}
	if f.findWorst(); f.worst.out() {
		worst := f.worst
		f.wild = &worst
	}
	return f
}

// byIdle: idle figures, or any at one speed, say where the base is, under the book's own curve, and
// nothing about the curve.
func (c *court) byIdle(car []reading) {
	if c.base.known() {
		c.shape = shapeless(c.deviations(car, c.lampOffset(car)))
		return
	}
	c.shape = shapeFinding{shape: "in-band", devs: c.deviations(car, 0)}
	if c.clash == nil {
		if c.base = c.fromIdle(car); c.idleApart {
			return
		}
	}
	for _, d := range c.shape.devs {
		if d.out() {
			c.shape = shapeFinding{shape: "base-only", devs: c.shape.devs, offset: d.offMid, low: d.beyond - d.err, high: d.beyond + d.err}
		}
	}
}

// byCarAlone: the base is known only through the curve and the curve only
// through the base.
func (c *court) byCarAlone(car []reading) {
	asRead := c.deviations(car, 0)
	c.shape = classify(asRead)
	switch c.shape.shape {
	case "in-band":
		if !c.offBothWays() {
			c.baseFromBand("in band", asRead)
		}
		return
	case "base-only":
		c.baseFromBand("constant offset", asRead)
		return
	}
	if c.offButOne(asRead) {
		return
	}
	for _, offset := range c.otherBases(asRead) {
		other := classify(c.deviations(car, offset))
		other.offset = offset
		if c.rivals(other) {
			c.explain(other)
			return
		}
	}
}

// leastOut is how many readings must be out before a shift of all is looked for
// (chosen on the table of judged cases: two are met by noise alone).
const leastOut = 3

// offBothWays: one direction lies within reading error of the band, but three
// readings or more of the other do not, and one shift brings all of both in:
// that is the base. Only for a table read in either direction.
func (c *court) offBothWays() bool {
	if c.spec.ListedWhile != "" && c.spec.ListedWhile != "either" || c.hysteresis != nil && c.hysteresis.distDeg > hysteresisWatch {
		return false
	}
	f := shapeFinding{shape: "base-only"}
	f.devs = c.deviations(pick(c.usable, func(r reading) bool { return r.withBase }), 0)
	if f.count(+1)+f.count(-1) < leastOut || !f.constant() {
		return false
	}
	f.findWorst()
	f.covered = span(f.devs)
	c.shape = f
	c.baseFromBand("constant offset", f.devs)
	return true
}

// leastButOne is how many readings there must be for one of them to be set
// aside and the rest still to show one shift (chosen).
const leastButOne = 6

// offButOne: all readings but one are off by one amount, and that one stands
// alone once the amount is taken off. It must stand between two others, and by
// twice the reading error (chosen on the table of judged cases): else a strong
// spring looks the same.
func (c *court) offButOne(asRead []dev) bool {
	if len(asRead) < leastButOne {
		return false
	}
	for i := 1; i < len(asRead)-1; i++ {
		f := shapeFinding{shape: "base-only", devs: append(append([]dev{}, asRead[:i]...), asRead[i+1:]...)}
		if f.count(+1)+f.count(-1) < leastOut || !f.constant() {
			continue
		}
		all := shapeFinding{devs: c.deviations(readingsOf(asRead), f.offset)}
		if !all.alone() || all.wild.point != asRead[i].point || all.wild.set != asRead[i].set || abs(all.wild.beyond) <= 2*all.wild.err {
			continue
		}
		rest := f.devs
		f.devs, f.wild, f.covered = asRead, all.wild, span(asRead)
		f.findWorst()
		c.shape = f
		c.baseFromBand("constant offset", rest)
		return true
	}
	return false
}

func readingsOf(devs []dev) []reading {
	var out []reading
	for _, d := range devs {
		out = append(out, d.reading)
	}
	return out
}

// baseFromBand sets the base from readings that lie in the band, as they are
// or after one shift.
func (c *court) baseFromBand(how string, devs []dev) {
	if c.band.base == nil {
		return
	}
	f := shapeFinding{devs: devs}
	f.constant()
	devs = spoken(devs)
	if len(devs) == 0 { // nothing the book says anything of: the base is not told
		return
	}
	if how == "in band" {
		f.offset = medianOffMid(devs)
		f.low, f.high = f.offset, f.offset
		for _, d := range devs {
			half := (d.high - d.low) / 2
			f.low, f.high = min(f.low, d.offMid-half), max(f.high, d.offMid+half)
		}
	}
	b := *c.band.base
	c.base = baseFinding{how: how, value: b + f.offset, low: b + f.low, high: b + f.high}
}

// otherBases are the offsets under which the top, or the lowest speed, would
// be right.
func (c *court) otherBases(devs []dev) []float64 {
	var out []float64
	var top []float64
	devs = spoken(devs)
	if len(devs) == 0 {
		return nil
	}
	for _, d := range devs {
		if d.region() == topRegion {
			top = append(top, d.offMid)
		}
	}
	if len(top) > 0 {
		out = append(out, median(top))
	}
	return append(out, devs[0].offMid)
}

// rivals tells whether another base gives as clean an account as the book's
// base does: the book's base leaves a short top (or nothing clean), the other
// leaves one clean fault.
func (c *court) rivals(other shapeFinding) bool {
	if abs(other.offset) <= 2*other.devs[0].err || other.wild != nil {
		return false
	}
	clean := other.shape == "early" || other.shape == "late" || other.shape == "over-limit" || other.shape == "under-limit"
	switch c.shape.shape {
	case "under-limit", "mixed":
		return clean
	case "late":
		return other.shape == "early" && !other.topToo
	}
	return false
}

// explain keeps both accounts; the shape is then undecided, so mixed.
func (c *court) explain(other shapeFinding) {
	asRead := c.shape
	if asRead.shape == "mixed" { // the other base leaves the only clean account
		c.shape = other
		b := 0.0
		if c.band.base != nil {
			b = *c.band.base
		}
		c.base = baseFinding{how: "constant offset", value: b + other.offset, low: b + other.offset - 2*other.devs[0].err, high: b + other.offset + 2*other.devs[0].err}
	} else {
		c.shape = shapeFinding{shape: "mixed", first: asRead.first, worst: asRead.worst, devs: asRead.devs, covered: asRead.covered}
	}
	c.out.Explanations = c.accounts(asRead, other)
}

// bySticking: rising right and falling out, or falling far behind rising, is
// friction and not a spring.
func (c *court) bySticking(withBase bool) {
	h := c.hysteresis
	if h == nil || h.distDeg <= hysteresisWatch {
		return
	}
	way := func(falling bool) shapeFinding {
		run := pick(c.usable, func(r reading) bool { return r.withBase == withBase && r.falling == falling })
		offset := 0.0
		if withBase && c.base.known() && c.band.base != nil {
			offset = c.base.value - *c.band.base
		}
		return classify(c.deviations(run, offset))
	}
	rising, falling := way(false), way(true)
	oneIsRight := rising.shape == "in-band" || falling.shape == "in-band"
	bothRight := rising.shape == "in-band" && falling.shape == "in-band"
	if h.distDeg > hysteresisFail && oneIsRight || oneIsRight && !bothRight {
		c.shape.shape = "sticking"
		c.out.Explanations = []Explanation{}
	}
}

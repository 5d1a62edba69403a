package advance

import "fmt"

// InBand counts readings. "In the band" means the same everywhere: inside the
// book's own edges, or outside them by no more than the stated reading error.
// So the readings in the band are inside and withinError together.
type InBand struct {
	Inside      int `json:"inside" help:"readings inside the book's own edges: pass"`
	WithinError int `json:"withinError" help:"readings outside them by no more than the reading error: watch"`
	Outside     int `json:"outside" help:"readings beyond that: fail"`
}

func (n *InBand) count(verdict string) {
	switch verdict {
	case "pass":
		n.Inside++
	case "watch":
		n.WithinError++
	case "fail":
		n.Outside++
	}
}

func (n InBand) in() int  { return n.Inside + n.WithinError }
func (n InBand) all() int { return n.in() + n.Outside }

// of says "8 of 9 readings are", and "the one reading is" of a single one.
func (n InBand) of() string {
	if n.all() == 1 && n.in() == 1 {
		return "the one reading is"
	}
	if n.all() == 1 {
		return "the one reading is not"
	}
	return fmt.Sprintf("%d of %d readings are", n.in(), n.all())
}

// Counts is how many of the readings are in the band.
type Counts struct {
	AsRead          InBand   `json:"asRead" help:"the readings as they were read"`
	BaseOffCrankDeg *float64 `json:"baseOffCrankDeg" unit:"crank degrees" help:"what is taken off every reading that holds the base: base as found less the book's base; null when the base is not known or is the book's"`
	BaseOff         *InBand  `json:"baseOff" help:"the readings with that taken off; null when nothing is taken off"`
}

// baseTaken is the base as found less the book's, crank degrees, to be taken
// off the readings; 0 where the base is not known by itself or lies in the
// book's tolerance.
func (c *court) baseTaken() float64 {
	how := c.base.how
	if c.band.base == nil || how == "" || how == "in band" || how == "idle and book" && c.shape.shape != "base-only" {
		return 0
	}
	offset := c.base.value - *c.band.base
	if abs(offset) <= c.spec.BaseToleranceCrankDeg+rounding {
		return 0
	}
	return offset
}

// countInBand judges every reading a second time with the base taken off and
// counts both.
func (c *court) countInBand() {
	taken := c.baseTaken()
	counts := Counts{}
	off := InBand{}
	for i := range c.out.Points {
		p := &c.out.Points[i]
		counts.AsRead.count(p.Verdict)
		p.Alone, p.BaseOffVerdict = c.isLone(*p), ""
		if taken == 0 {
			continue
		}
		p.BaseOffVerdict = p.Verdict
		if p.Base == "included" && p.Verdict != "unknown" {
			p.BaseOffVerdict = pointVerdict(outside(p.MeasuredCrankDeg-taken, p.MinCrankDeg, p.MaxCrankDeg), p.ReadingErrorCrankDeg)
		}
		off.count(p.BaseOffVerdict)
	}
	if taken != 0 {
		counts.BaseOffCrankDeg, counts.BaseOff = &taken, &off
	}
	c.out.Counts = counts
}

// words says how many readings are in the band, and which way counted.
func (n Counts) words() string {
	if n.BaseOff == nil {
		return n.AsRead.of() + " in the band as read"
	}
	return fmt.Sprintf("%s in the band once %.1f° of base is %s (%d of %d as read)", n.BaseOff.of(), abs(*n.BaseOffCrankDeg), offOrOn(*n.BaseOffCrankDeg), n.AsRead.in(), n.AsRead.all())
}

// offOrOn: an early base is taken off the readings, a late one added to them.
func offOrOn(offset float64) string {
	if offset < 0 {
		return "put back on"
	}
	return "taken off"
}

// baseFirst tells whether the base is what to mend, before anything inside:
// the curve has the book's shape, a lone doubtful reading set aside, and with
// the base taken off more readings are in the band than as read.
// A turn of less than the reading error is none.
func (c *court) baseFirst() bool {
	if c.clash != nil || c.wander != nil || c.fallsBelow() || c.slightTurn() {
		return false
	}
	switch c.shape.shape {
	case "base-only":
		return len(c.curveRun(false)) == 0
	case "in-band":
		n := c.out.Counts
		return n.BaseOff != nil && (c.baseOut() || n.BaseOff.Outside < n.AsRead.Outside)
	}
	return false
}

// slightTurn: the base as found lies nearer the book's than can be read.
func (c *court) slightTurn() bool {
	return c.base.known() && c.band.base != nil && abs(c.base.value-*c.band.base) < c.readingError()
}

// strays counts readings that are out of the band in the direction the book
// is read in, beside the lone one, with the base off.
func (c *court) strays() int {
	n := 0
	for _, p := range c.out.Points {
		verdict := p.Verdict
		if p.BaseOffVerdict != "" {
			verdict = p.BaseOffVerdict
		}
		listed := c.spec.ListedWhile == "" || c.spec.ListedWhile == "either" || c.spec.ListedWhile == p.Direction
		if verdict == "fail" && listed && !c.isLone(p) {
			n++
		}
	}
	return n
}

// isLone tells whether a point is the reading that stands alone.
func (c *court) isLone(p JudgedPoint) bool {
	w := c.shape.wild
	return w != nil && w.set == p.Set && w.point == p.Point
}

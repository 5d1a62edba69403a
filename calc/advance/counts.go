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

// countInBand counts the readings in the band, and judges each a second time
// with the base taken off where the base is what is off.
func (j *judgement) countInBand() {
	taken := 0.0
	if j.baseNamed() != "" && j.base.known() && j.band.base != nil {
		taken = j.base.value - *j.band.base
	}
	off := InBand{}
	for i := range j.points {
		p := &j.points[i]
		j.counts.AsRead.count(p.Verdict)
		if taken == 0 {
			continue
		}
		p.BaseOffVerdict = p.Verdict
		if p.Base == "included" && p.Verdict != "unknown" {
			p.BaseOffVerdict = pointVerdict(outside(p.MeasuredCrankDeg-taken, p.MinCrankDeg, p.MaxCrankDeg),
				p.ReadingErrorCrankDeg)
		}
		off.count(p.BaseOffVerdict)
	}
	if taken != 0 {
		j.counts.BaseOffCrankDeg, j.counts.BaseOff = &taken, &off
	}
}

// words says how many readings are in the band, and which way counted.
func (n Counts) words() string {
	if n.BaseOff == nil {
		return n.AsRead.of() + " in the band as read"
	}
	return fmt.Sprintf("%s in the band once %.1f° of base is %s (%d of %d as read)", n.BaseOff.of(),
		abs(*n.BaseOffCrankDeg), offOrOn(*n.BaseOffCrankDeg), n.AsRead.in(), n.AsRead.all())
}

// offOrOn: an early base is taken off the readings, a late one added to them.
func offOrOn(offset float64) string {
	if offset < 0 {
		return "put back on"
	}
	return "taken off"
}

// strays counts readings that fail with the base taken off and are no slips.
func (j *judgement) strays() int {
	n := 0
	for _, p := range j.points {
		verdict := p.Verdict
		if p.BaseOffVerdict != "" {
			verdict = p.BaseOffVerdict
		}
		if verdict == "fail" && !p.Alone {
			n++
		}
	}
	return n
}

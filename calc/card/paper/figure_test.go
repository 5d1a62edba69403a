package paper

import (
	"math"
	"strings"
	"testing"

	"pointsmith/calc/advance"
	"pointsmith/calc/card"
)

// The book's band on the figure is advance.expect's at the speeds of the rows,
// which works it out by code of its own.
func TestTheBandIsTheBooks(t *testing.T) {
	for _, name := range []string{"v3/four", "v1/full-six"} {
		c := readCard(t, name)
		c.Curves = nil
		p := plotOf(c)
		if !p.isTotal { // expect gives totals: so let the figure show them too
			p = plot{isTotal: true}
			p.book = p.bookOf(*c.Spec, 2)
		}
		c.Spec.BaseToleranceCrankDeg = 0 // it widens what is expected, and is not in the rows
		for _, r := range p.book {
			out, err := advance.Expect(advance.ExpectIn{Spec: *c.Spec, EngineRPM: []float64{r.engineRPM}})
			if err != nil {
				t.Fatal(err)
			}
			band := out.Bands[0]
			if math.Abs(band.MinCrankDeg-*r.min) > 1e-9 || math.Abs(band.MaxCrankDeg-*r.max) > 1e-9 {
				t.Errorf("%s at %v: %v to %v; expected %v to %v", name, r.engineRPM, *r.min, *r.max,
					band.MinCrankDeg, band.MaxCrankDeg)
			}
		}
	}
}

// By hand: on the bench 5 distributor degrees at 700 distributor rpm are 10
// crank degrees at 1400 engine rpm; on the car 18 before TDC less the static
// figure of 8 are 10 too.
func TestBenchAndCarMeetOnTheFigure(t *testing.T) {
	bench := advance.Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded",
		Points: []advance.ReadingPoint{{RPM: 700, Deg: 5}, {RPM: 700, Deg: 6, Direction: "falling"}}}
	car := advance.Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included",
		Points: []advance.ReadingPoint{{RPM: 1400, Deg: 18}}}
	c := card.Card{Car: card.Car{Name: "L"}, AsSet: &card.AsSet{StaticCrankDeg: new(8.0)},
		Curves: []advance.Set{bench, car}}
	p := plotOf(c)
	want := at{1400, 10}
	if p.isTotal || len(p.curves) != 2 || p.curves[0].rising[0] != want || p.curves[1].rising[0] != want ||
		p.curves[0].falling[0] != (at{1400, 12}) {
		t.Errorf("%+v", p)
	}
	c.AsSet = nil
	if p := plotOf(c); p.leftOut != 1 || len(p.curves) != 1 ||
		!strings.Contains(string(figure(p)), "without a known base") {
		t.Errorf("a base was made up: %+v", p)
	}
}

// Every mark lies inside the frame, whatever the figures are.
func TestMarksStayInside(t *testing.T) {
	for _, deg := range []float64{-40, 0, 0.1, 13, 90} {
		for _, speed := range []float64{1, 450, 6000, 12000} {
			p := plot{curves: []curve{{rising: []at{{speed, deg}, {speed / 3, 0}}}}}
			f := frameOf(p)
			for _, one := range p.all() {
				x, y := f.x(one.engineRPM), f.y(one.crankDeg)
				if x < plotLeft || x > plotRight || y < plotTop-1e-9 || y > plotBottom+1e-9 {
					t.Errorf("%v at %v lies at %v, %v", deg, speed, x, y)
				}
			}
			if n := len(f.speed.marks()); n < 2 || n > 13 {
				t.Errorf("%d lines for %v rpm", n, speed)
			}
		}
	}
}

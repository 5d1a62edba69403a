package advance

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// readOnBench reads a governor without noise at the book's speeds and one past
// them, rising.
func readOnBench(e engine, m Model) Set {
	s := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	for _, rpm := range append(append([]float64{200}, e.speeds...), 1.15*e.speeds[len(e.speeds)-1]) {
		s.Points = append(s.Points, ReadingPoint{rpm, m.reads(rpm, false), "rising"})
	}
	return s
}

func readOnCar(e engine, m Model, base float64) Set {
	s := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, rpm := range []float64{700, 900, 1250, 1500, 2000, 2500, 3200, 4200, 5000} {
		s.Points = append(s.Points, ReadingPoint{rpm, base + 2*m.reads(rpm/2, false), "rising"})
	}
	return s
}

// A step gives the figure of that step: out starts later, in sooner, by its
// own words.
func TestAPostIsBentTheWayItsFiguresSay(t *testing.T) {
	posts := 0
	for _, e := range engines {
		for _, c := range []Change{{PrimaryPreload: ptr(4.0)}, {PrimaryPreload: ptr(3.0)}, {PrimarySpring: ptr(0.45)},
			{PrimarySpring: ptr(2.2)},
			{PrimarySpring: ptr(1.6), PrimaryPreload: ptr(2.0)}, {PrimarySpring: ptr(0.6), SlackDistDeg: ptr(3.0)}} {
			m := e.with(c)
			for _, o := range mend(t, e.style(e), readOnBench(e, m)).Options {
				for _, step := range o.Steps {
					var way string
					var then, now float64
					if n, _ := fmt.Sscanf(step, "Bend the primary spring's post %s until the advance starts at about %f distributor rpm; now it starts at about %f.", &way, &then, &now); n == 3 {
						posts++
						if (way == "out") != (then > now) {
							t.Errorf("%s, %+v: %s", e.name, c, step)
						}
					}
				}
			}
		}
	}
	if posts < 3 {
		t.Errorf("only %d steps bend the primary's post", posts)
	}
}

// A spring that is gone is replaced: no ratio says what a lost one needs, and
// the unit is not called wrong for it.
func TestALostSpringIsReplaced(t *testing.T) {
	for _, e := range engines[:2] {
		out := mend(t, e.style(e), readOnBench(e, e.with(Change{PrimarySpring: ptr(0.02)})))
		if len(out.Options) == 0 {
			t.Fatalf("%s: %s", out.Verdict, out.Summary)
		}
		o := out.Options[0]
		if !slices.Equal(o.Change.Replace, []string{"primary"}) || o.Change.PrimarySpring != nil || o.Scale != "" ||
			!touches(strings.Join(o.Steps, " "), []string{"Fit a primary spring as the book names it"}) {
			t.Errorf("%s: %+v %q", e.name, o.Change, o.Steps)
		}
		inBand(t, "spring replaced", e, e.sound)
	}
}

// Only what is named is touched: of single faults, one part.
func TestOnlyTheNamedPartIsTouched(t *testing.T) {
	slower := func(e engine, by float64) Model { m := e.sound; m.LimitDistDeg += by; return m }
	for _, e := range engines {
		for part, m := range map[string]Model{"primary": e.with(Change{PrimarySpring: ptr(0.45)}),
			"secondary": e.with(Change{SlackDistDeg: ptr(4.0)}),
			"stop":      slower(e, 3.5), "stop too": slower(e, -3.5)} {
			for _, o := range mend(t, e.style(e), readOnBench(e, m)).Options {
				c := o.Change
				is := map[string]bool{"primary": c.PrimarySpring != nil || c.PrimaryPreload != nil ||
					slices.Contains(c.Replace, "primary"),
					"secondary": c.SecondarySpring != nil || c.SlackDistDeg != nil ||
						slices.Contains(c.Replace, "secondary"), "stop": c.LimitDistDeg != nil}
				for other, touched := range is {
					if touched && !strings.HasPrefix(part, other) {
						t.Errorf("%s, %s at fault: %q", e.name, part, o.Steps)
					}
				}
			}
		}
	}
}

// Each step says what to read after it, bench and car, in the units that were
// read; a ratio comes with a way to measure it; the base is set last.
func TestStepsSayWhatToReadAfterThem(t *testing.T) {
	e := engines[0]
	m := e.with(Change{PrimarySpring: ptr(0.5)})
	out := mend(t, e.style(e), readOnBench(e, m), readOnCar(e, m, e.base-7))
	if len(out.Options) == 0 {
		t.Fatalf("%s: %s", out.Verdict, out.Summary)
	}
	o := out.Options[0]
	if len(o.Stages) != 2 || o.Stages[0].Change.BaseCrankDeg != nil || o.Stages[1].Change.BaseCrankDeg == nil {
		t.Fatalf("stages %+v", o.Stages)
	}
	for _, want := range []string{"On the bench, distributor degrees without the base at distributor rpm",
		"On the car, crank degrees with the base at engine rpm"} {
		if !strings.Contains(o.Stages[0].Read, want) || !strings.Contains(strings.Join(o.Steps, " "), want) {
			t.Errorf("%q is not in %q", want, o.Stages[0].Read)
		}
	}
	first, last := o.Stages[0].Expected, o.Stages[1].Expected
	for i := range last {
		if moved := last[i].CrankDeg - first[i].CrankDeg; abs(moved-7) > 1 || last[i].Verdict == "fail" {
			t.Errorf("at %.0f engine rpm the base step moves %.1f, %s", last[i].EngineRPM, moved, last[i].Verdict)
		}
	}
	if !strings.Contains(o.Scale, "kitchen scale") || len(o.Stages[0].Curve) < 20 {
		t.Errorf("scale %q, %d points", o.Scale, len(o.Stages[0].Curve))
	}
}

// A bench ring that stands off is zeroed and read again before anything else.
func TestARingIsZeroedFirst(t *testing.T) {
	e := engines[0]
	set := readOnBench(e, e.sound)
	for i := range set.Points {
		set.Points[i].Deg += 3
	}
	if out := mend(t, e.style(e), set); len(out.Options) != 0 || out.Verdict != "unknown" ||
		!strings.Contains(out.Summary, "Zero the ring") {
		t.Errorf("%s: %s", out.Verdict, out.Summary)
	}
}

// The plate's number is what the stop is taken to, where the book gives it.
func TestTheStopGoesToItsPlate(t *testing.T) {
	e := engines[0]
	spec := e.style(e)
	spec.LimitDistDeg = ptr(13.0)
	m := e.sound
	m.LimitDistDeg = 9
	out := mend(t, spec, readOnBench(e, m))
	if len(out.Options) == 0 || out.Options[0].Change.LimitDistDeg == nil || *out.Options[0].Change.LimitDistDeg != 13 {
		t.Errorf("%s: %+v", out.Summary, out.Options)
	}
}

// Where measurements contradict one another nothing is prescribed, and what to
// do first is said, its caution before it.
func TestNothingIsPrescribedWhileMeasurementsDisagree(t *testing.T) {
	car := midCar(0, nil)
	for i, deg := range []float64{4, 10, 20, 30, 36, 42, 46} {
		car.Points[i].Deg = deg
	}
	for name, c := range map[string]struct {
		sets []Set
		says string
	}{
		"lamp against bench and car":  {[]Set{midBench(0), midCar(0, ptr(16.0))}, "true TDC"},
		"bench and car of two curves": {[]Set{midBench(0), car}, "in doubt"},
		"ring off":                    {[]Set{midBench(2), midCar(0, nil)}, "Zero the ring"},
	} {
		out := mend(t, linnet(), c.sets...)
		if len(out.Options) != 0 || out.Verdict != "unknown" || !strings.Contains(out.Summary, c.says) {
			t.Errorf("%s: %s: %s", name, out.Verdict, out.Summary)
		}
		if strings.Contains(out.Summary, "positive stop") && out.Cautions[0] != clashCaution {
			t.Errorf("%s: cautions %q", name, out.Cautions)
		}
	}
}

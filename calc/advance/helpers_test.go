package advance

import (
	"testing"

	"pointsmith/calc/finding"
)

func ptr[T any](x T) *T { return &x }

// rows is a book's table: speed, least, most.
func rows(table [][3]float64) (points []SpecPoint) {
	for _, r := range table {
		points = append(points, SpecPoint{RPM: r[0], MinDeg: ptr(r[1]), MaxDeg: ptr(r[2])})
	}
	return points
}

// The invented four-cylinder of the demo: a table in distributor degrees at
// distributor rpm, base 8 before TDC not included.
func linnet() Spec {
	return Spec{AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded", BaseCrankDeg: ptr(8.0),
		Points: rows([][3]float64{{300, 0, 1}, {450, .5, 2.5}, {700, 4, 6}, {1000, 7, 9}, {1500, 9, 11}, {2000, 11, 13},
			{2500, 12, 14}})}
}

func linnetBench() Set {
	s := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	rpm := []float64{300, 450, 700, 1000, 1500, 2000, 2500}
	for i, deg := range []float64{3.5, 7.5, 10.5, 12, 13, 13, 13} {
		s.Points = append(s.Points, ReadingPoint{rpm[i], deg, "rising"})
	}
	for i, deg := range []float64{4.5, 8.5, 11.5, 12.5, 13, 13, 13} {
		s.Points = append(s.Points, ReadingPoint{rpm[i], deg, "falling"})
	}
	return s
}

func linnetStrobe() Set {
	s := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off"}
	for _, p := range [][2]float64{{800, 8}, {1000, 11.9}, {1500, 17.2}, {2000, 19.7}, {3000, 21.7}, {4000, 21.7},
		{5000, 21.7}} {
		s.Points = append(s.Points, ReadingPoint{p[0], p[1], "rising"})
	}
	return s
}

// The invented six: a table of totals in crank degrees, base 6 included.
func stour() (Spec, Set) {
	spec := Spec{AngleUnit: "crank", SpeedUnit: "engine", Base: "included", BaseCrankDeg: ptr(6.0),
		Points: rows([][3]float64{{1000, 8, 12}, {1500, 15, 19}, {2000, 20, 24}, {3000, 26, 30}, {4000, 30, 34}})}
	set := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	rpm := []float64{500, 750, 1000, 1500, 2000}
	for i, deg := range []float64{2, 5.5, 8, 11, 13} {
		set.Points = append(set.Points, ReadingPoint{rpm[i], deg, "rising"})
	}
	for i, deg := range []float64{2, 5.8, 8.2, 11, 13} {
		set.Points = append(set.Points, ReadingPoint{rpm[i], deg, "falling"})
	}
	return spec, set
}

func judge(t *testing.T, spec Spec, sets ...Set) JudgeOut {
	t.Helper()
	out, err := Judge(JudgeIn{Spec: spec, Readings: sets})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func find(out JudgeOut, code string) *finding.Finding {
	for i, f := range out.Findings {
		if f.Code == code {
			return &out.Findings[i]
		}
	}
	return nil
}

func codes(out JudgeOut) []string {
	var all []string
	for _, f := range out.Findings {
		all = append(all, f.Code)
	}
	return all
}

// midCar is the invented four's middle curve on the car, all of it raised by
// an amount; static is the lamp's figure or none.
func midCar(raised float64, static *float64) Set {
	s := Set{Place: "car", AngleUnit: "crank", SpeedUnit: "engine", Base: "included", Vacuum: "off",
		StaticCrankDeg: static}
	for _, p := range [][2]float64{{600, 9}, {900, 11}, {1400, 18}, {2000, 24}, {3000, 28}, {4000, 32}, {5000, 34}} {
		s.Points = append(s.Points, ReadingPoint{p[0], p[1] + raised, "rising"})
	}
	return s
}

// midBench is the same unit on the bench, the ring off by an amount.
func midBench(raised float64) Set {
	s := Set{Place: "bench", AngleUnit: "distributor", SpeedUnit: "distributor", Base: "excluded"}
	for _, p := range [][2]float64{{300, .5}, {450, 1.5}, {700, 5}, {1000, 8}, {1500, 10}, {2000, 12}, {2500, 13}} {
		s.Points = append(s.Points, ReadingPoint{p[0], p[1] + raised, "rising"})
	}
	return s
}

func mend(t *testing.T, spec Spec, sets ...Set) PrescribeOut {
	t.Helper()
	out, err := Prescribe(PrescribeIn{Spec: spec, Readings: sets})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

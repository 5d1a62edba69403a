package quantity

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// TestAgainstPublishedFigures holds what printed pages give; the tolerance is
// half the last printed digit.
func TestAgainstPublishedFigures(t *testing.T) {
	for _, c := range []struct {
		value     float64
		from, to  string
		want, tol float64
		source    string
	}{
		{1, "inHg", "Pa", 3386.389, 0.0005, "conventional inch of mercury (conversion-website, a weather FAQ)"},
		{1, "inHg", "mbar", 33.8639, 0.00005, "a weather FAQ"},
		{1, "mmHg", "Pa", 133.322, 0.0005, "a weather FAQ"},
		{1, "mbar", "inHg", 0.02953, 0.000005, "a weather FAQ"},
		{1023, "mbar", "inHg", 30.21, 0.005, "a weather FAQ"},
		{29.45, "inHg", "mbar", 997, 0.5, "a weather FAQ"},
		{14.696, "psi", "Pa", 101325, 5, "US Standard Atmosphere 1976, sea level"},
		{0.015, "in", "mm", 0.381, 0.0005, "US Navy Construction Mechanic course, electrical chapter, fig 2-52 text"},
		{0.025, "in", "mm", 0.635, 0.0005, "US Navy Construction Mechanic course, electrical chapter, fig 2-52 text"},
	} {
		out, err := Convert(ConvertIn{Value: c.value, From: c.from, To: c.to})
		if err != nil || math.Abs(out.Value-c.want) > c.tol {
			t.Errorf("%v %s = %v %s (%v), want %v (%s)", c.value, c.from, out.Value, c.to, err, c.want, c.source)
		}
	}
}

func TestAgainstIndependentTable(t *testing.T) {
	file, err := os.Open("../../testdata/tables/convert-gnu-units.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment, r.FieldsPerRecord = '#', 4
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 30 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for _, row := range rows {
		value, _ := strconv.ParseFloat(row[0], 64)
		want, err := strconv.ParseFloat(row[3], 64)
		if err != nil {
			t.Fatal(err)
		}
		out, err := Convert(ConvertIn{Value: value, From: row[1], To: row[2]})
		if err != nil || math.Abs(out.Value-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%v %s = %v %s (%v), GNU units says %v", value, row[1], out.Value, row[2], err, want)
		}
	}
}

func TestThereAndBackIsTheSame(t *testing.T) {
	all := names("")
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.SampledFrom(all).Draw(t, "from")
		to := rapid.SampledFrom(names(units[from].kind)).Draw(t, "to")
		v := rapid.Float64Range(0, 1e6).Draw(t, "value")
		there, err := Convert(ConvertIn{v, from, to})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(there.Value) > 1e12 {
			return
		}
		back, err := Convert(ConvertIn{there.Value, to, from})
		if err != nil || math.Abs(back.Value-v) > 1e-9*(500+v) {
			t.Fatalf("%v %s became %v (%v)", v, from, back.Value, err)
		}
	})
}

func TestRefusals(t *testing.T) {
	for _, in := range []ConvertIn{{1, "inHg", "mm"}, {1, "cubit", "mm"}, {-300, "C", "K"}} {
		if out, err := Convert(in); err == nil {
			t.Errorf("%+v gave %v, want a refusal", in, out.Value)
		}
	}
}

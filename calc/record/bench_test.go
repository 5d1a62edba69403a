package record

import "testing"

// BenchmarkDrift is a car's record of eight readings with new points in it.
func BenchmarkDrift(b *testing.B) {
	in := eight()
	for b.Loop() {
		if out, err := Drift(in); err != nil || out.DueMiles == nil {
			b.Fatal(out, err)
		}
	}
}

// eight readings over seven thousand miles, points renewed halfway.
func eight() DriftIn {
	in := DriftIn{What: "dwell", Limit: &Limit{Max: num(63)}}
	for i, value := range []float64{59.5, 60, 60, 61.5, 59, 60.5, 60.5, 61} {
		p := Point{Miles: num(41000 + 1000*float64(i)), Value: value}
		if i == 4 {
			p.Reset = "new-points"
		}
		in.Points = append(in.Points, p)
	}
	return in
}

func num(x float64) *float64 { return &x }

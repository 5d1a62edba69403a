package advance

import "testing"

func BenchmarkJudge(b *testing.B) {
	in := JudgeIn{Spec: linnet(), Readings: Sets{linnetBench(), linnetStrobe()}}
	for b.Loop() {
		if _, err := Judge(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFit(b *testing.B) {
	in := FitIn{Readings: Sets{linnetBench()}}
	for b.Loop() {
		if _, err := Fit(in); err != nil {
			b.Fatal(err)
		}
	}
}

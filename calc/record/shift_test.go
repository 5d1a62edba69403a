package record

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawHistory gives some history of whole figures, so that moving them costs
// no digits.
func drawHistory(t *rapid.T, what string) DriftIn {
	in := DriftIn{What: what, ReadingError: num(0.5), Limit: &Limit{Min: num(20), Max: num(40)}}
	at := 1000.0
	for range rapid.IntRange(2, 7).Draw(t, "readings") {
		at += float64(rapid.IntRange(1, 3000).Draw(t, "miles"))
		p := miles(at, float64(rapid.IntRange(22, 38).Draw(t, "value")))
		p.Reset = rapid.SampledFrom([]string{"", "", "", "adjusted", "new-points"}).Draw(t, "reset")
		in.Points = append(in.Points, p)
	}
	return in
}

// moved gives the history with miles and values moved, and values stretched.
func moved(in DriftIn, along, up, stretch float64) DriftIn {
	out := in
	out.Points = nil
	for _, p := range in.Points {
		q := miles(*p.Miles+along, p.Value*stretch+up)
		q.Reset = p.Reset
		out.Points = append(out.Points, q)
	}
	out.ReadingError = num(*in.ReadingError * math.Abs(stretch))
	a, b := *in.Limit.Min*stretch+up, *in.Limit.Max*stretch+up
	out.Limit = &Limit{Min: num(min(a, b)), Max: num(max(a, b))}
	return out
}

func agree(t *rapid.T, what string, a, b float64) {
	if math.Abs(a-b) > 1e-6*max(1, math.Abs(a)) {
		t.Fatalf("%s: %v and %v", what, a, b)
	}
}

// alike holds a second answer to the first one, its rates stretched and its
// miles moved; places are whole miles, so one mile is allowed.
func alike(t *rapid.T, a, b DriftOut, along, stretch float64) {
	if a.State != b.State || (a.Low == nil) != (b.Low == nil) || (a.DueMiles == nil) != (b.DueMiles == nil) {
		t.Fatalf("%+v\n%+v", a, b)
	}
	if a.Low == nil {
		return
	}
	low, high := *a.Low*stretch, *a.High*stretch
	agree(t, "low", min(low, high), *b.Low)
	agree(t, "middle", *a.PerThousandMiles*stretch, *b.PerThousandMiles)
	agree(t, "high", max(low, high), *b.High)
	if !(*b.Low < *b.PerThousandMiles && *b.PerThousandMiles < *b.High) {
		t.Fatalf("out of order: %+v", b)
	}
	if a.DueMiles == nil {
		return
	}
	if math.Abs(a.DueMiles.Low+along-b.DueMiles.Low) > 1 ||
		(a.DueMiles.High == nil) != (b.DueMiles.High == nil) ||
		a.DueMiles.High != nil && math.Abs(*a.DueMiles.High+along-*b.DueMiles.High) > 1 {
		t.Fatalf("due %+v and %+v", *a.DueMiles, *b.DueMiles)
	}
}

// Where the odometer began, and what the figure is counted from, is nothing to
// the drift.
func TestMovingMilesAndValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		what := rapid.SampledFrom([]string{"dwell", "base", "other"}).Draw(t, "what")
		in := drawHistory(t, what)
		along := float64(rapid.IntRange(0, 90000).Draw(t, "along"))
		up := float64(rapid.IntRange(-15, 15).Draw(t, "up"))
		a, errA := Drift(in)
		b, errB := Drift(moved(in, along, up, 1))
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		alike(t, a, b, along, 1)
	})
}

// A figure in another unit, or counted the other way, drifts by as much.
func TestStretchingFreeFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawHistory(t, "other")
		stretch := rapid.SampledFrom([]float64{2, -1, 25.4, -0.125}).Draw(t, "stretch")
		a, errA := Drift(in)
		b, errB := Drift(moved(in, 0, 0, stretch))
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		alike(t, a, b, 0, stretch)
	})
}

// One more reading where the line was expected never widens the interval of
// free figures of known error; none is ever without width.
func TestMoreReadingsTellMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawHistory(t, "other")
		for i := range in.Points {
			in.Points[i].Reset = ""
			in.Points[i].Value = 30 + *in.Points[i].Miles/1000
		}
		few, errFew := Drift(in)
		last := *in.Points[len(in.Points)-1].Miles
		in.Points = append(in.Points, miles(last+1000, 31+last/1000))
		more, errMore := Drift(in)
		if errFew != nil || errMore != nil {
			t.Fatal(errFew, errMore)
		}
		if w, v := *few.High-*few.Low, *more.High-*more.Low; v <= 0 || v > w {
			t.Fatalf("%v wide, then %v", w, v)
		}
	})
}

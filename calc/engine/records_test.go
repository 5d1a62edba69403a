package engine

import (
	"math"
	"math/rand/v2"
	"testing"
)

func knockAt(rpm, deg float64, heard string) KnockRecord {
	return KnockRecord{EngineRPM: rpm, Load: full(), CrankDeg: deg, Heard: heard, Fuel: ron(98), Distributor: "sound"}
}

func ask(rpm float64, records ...KnockRecord) BestIn {
	return BestIn{Engine: ridgeway, Fuel: ron(98), EngineRPM: rpm, Load: full(), Records: Records{Knock: records}}
}

// The V8 of the demo: traces at 38 and 3000 rpm, at 24 and 1600 rpm.
func TestTheRidgewaysRecords(t *testing.T) {
	records := []KnockRecord{knockAt(3000, 38, "trace"), knockAt(1600, 24, "trace")}
	for _, c := range []struct{ rpm, heard float64 }{{3000, 38}, {1600, 24}, {2300, 0}} {
		out := best(t, ask(c.rpm, records...))
		b := out.BeforeRecords
		t.Logf("%.0f rpm: limit %.1f (%.1f to %.1f) before, %.1f (%.1f to %.1f) after; best %.1f (%.1f to %.1f); advice %.1f; left %.2f; %s",
			c.rpm, b.KnockLimitCrankDeg, b.KnockLimitLowCrankDeg, b.KnockLimitHighCrankDeg, out.KnockLimitCrankDeg,
			out.KnockLimitLowCrankDeg, out.KnockLimitHighCrankDeg, out.MBTCrankDeg, out.MBTLowCrankDeg,
			out.MBTHighCrankDeg, out.AdviceCrankDeg, out.WorthOfDraws, out.KnockWidest.Text)
		if wide, narrow := b.KnockLimitHighCrankDeg-b.KnockLimitLowCrankDeg,
			out.KnockLimitHighCrankDeg-out.KnockLimitLowCrankDeg; narrow > wide/2 {
			t.Errorf("%.0f rpm: the range is %.1f wide after the records, %.1f before", c.rpm, narrow, wide)
		}
		if c.heard > 0 && (out.KnockLimitHighCrankDeg > c.heard || out.AdviceCrankDeg > c.heard-backOff) {
			t.Errorf("%.0f rpm: limit to %.2f, advice %.2f, heard at %.0f", c.rpm, out.KnockLimitHighCrankDeg,
				out.AdviceCrankDeg, c.heard)
		}
	}
}

// However many say that they heard nothing, and whatever was found best: where one
// heard it, the limit is not later.
func TestAHeardKnockIsNeverOutvoted(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 5))
	n := count(6, 200)
	for range n {
		pick := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
		rpm, deg := pick(1200, 4000), pick(5, 45)
		in := ask(rpm, knockAt(rpm, deg, []string{"trace", "rattle", "heavy"}[rng.IntN(3)]))
		for range rng.IntN(8) {
			in.Records.Knock = append(in.Records.Knock, knockAt(rpm*pick(0.7, 1.2), deg+pick(-5, 15), "none"))
		}
		for range rng.IntN(3) {
			in.Records.Best = append(in.Records.Best,
				BestRecord{EngineRPM: rpm, Load: full(), CrankDeg: pick(10, 50), How: "hill-time", Fuel: ron(98)})
		}
		if out := best(t, in); out.KnockLimitHighCrankDeg > deg || out.AdviceCrankDeg > deg-backOff {
			t.Errorf("heard at %v, the limit is said to reach %v, advice %v; %+v", deg, out.KnockLimitHighCrankDeg,
				out.AdviceCrankDeg, in.Records)
		}
	}
}

// Not only by the cap: in no draw is the knock that was heard impossible.
func TestNoDrawIsLeftThatCouldNotHaveKnocked(t *testing.T) {
	b := bodyOf(t, ridgeway)
	heard, _, _, bad := Records{Knock: []KnockRecord{knockAt(3000, 38, "trace"), knockAt(1600, 24, "rattle"),
		knockAt(1600, 30, "none")}}.ready(Air{})
	if bad != nil {
		t.Fatal(bad)
	}
	for _, o := range b.posterior(draws(tries), heard, nil) {
		for _, l := range heard[:2] {
			if p := b.profile(l.condition, o); p.limit > l.spark+0.3 { // a profile is good to 0.15
				t.Errorf("a draw has its limit at %.2f, heard at %.0f", p.limit, l.spark)
			}
		}
	}
}

// A heavy knock was found further past its beginning than a trace; and what says
// “none” moves the limit, but less than an ear that heard.
func TestWhatWasHeardCounts(t *testing.T) {
	trace, heavy := best(t, ask(3000, knockAt(3000, 38, "trace"))), best(t, ask(3000, knockAt(3000, 38, "heavy")))
	if heavy.KnockLimitLowCrankDeg >= trace.KnockLimitLowCrankDeg {
		t.Errorf("heavy: from %v, trace: from %v", heavy.KnockLimitLowCrankDeg, trace.KnockLimitLowCrankDeg)
	}
	none := best(t, ask(3000, knockAt(3000, 38, "none")))
	if none.KnockLimitLowCrankDeg <= none.BeforeRecords.KnockLimitLowCrankDeg {
		t.Errorf("none heard at 38, and the low end goes from %v to %v", none.BeforeRecords.KnockLimitLowCrankDeg,
			none.KnockLimitLowCrankDeg)
	}
	if none.KnockLimitLowCrankDeg > 37 {
		t.Errorf("an ear that heard nothing is believed altogether: %v", none.KnockLimitLowCrankDeg)
	}
}

// Scatter is taken off once: a knock heard with the scattered unit holds it.
func TestScatterIsNotTakenOffTwice(t *testing.T) {
	sound := ask(3000, knockAt(3000, 38, "trace"))
	sound.EarliestCrankDeg = num(2.4)
	with := sound
	record := knockAt(3000, 38, "trace")
	record.Distributor, record.EarliestCrankDeg = "scattered", num(2.4)
	with.Records.Knock = []KnockRecord{record}
	a, b := best(t, sound), best(t, with)
	near(t, "advice with the scattered unit over that with a sound one", b.AdviceCrankDeg-a.AdviceCrankDeg, 2.4, 0.3)
	if b.AdviceCrankDeg > 36 {
		t.Errorf("advice %v, that unit knocked at 38", b.AdviceCrankDeg)
	}
	unsaid := sound
	record.Distributor, record.EarliestCrankDeg = "", nil
	unsaid.Records.Knock = []KnockRecord{record}
	if c := best(t, unsaid); len(c.Asks) != 1 || math.Abs(c.AdviceCrankDeg-a.AdviceCrankDeg) > 1e-9 {
		t.Errorf("not said: asks %v, advice %v, sound %v", c.Asks, c.AdviceCrankDeg, a.AdviceCrankDeg)
	}
}

func TestBestTimingFoundMovesTheModel(t *testing.T) {
	in := ask(2500)
	in.Records.Best = []BestRecord{{EngineRPM: 2500, Load: full(), CrankDeg: 28, How: "hill-time", Fuel: ron(98)}}
	out := best(t, in)
	t.Logf("best timing %.1f (%.1f to %.1f) before, %.1f (%.1f to %.1f) after 28 up the hill",
		out.BeforeRecords.MBTCrankDeg,
		out.BeforeRecords.MBTLowCrankDeg, out.BeforeRecords.MBTHighCrankDeg, out.MBTCrankDeg, out.MBTLowCrankDeg,
		out.MBTHighCrankDeg)
	if out.MBTCrankDeg >= out.BeforeRecords.MBTCrankDeg-1 ||
		out.MBTHighCrankDeg-out.MBTLowCrankDeg >= out.BeforeRecords.MBTHighCrankDeg-out.BeforeRecords.MBTLowCrankDeg {
		t.Error("the record does not count")
	}
}

// Far from what the engine could do: said, not hidden.
func TestRecordsThatDoNotFitAreSaid(t *testing.T) {
	out := best(t, ask(3000, knockAt(3000, 12, "trace")))
	if !out.Findings.Has("knocks-early") {
		t.Errorf("knock at 12 at 3000 rpm: %+v", out.Findings)
	}
	if out.KnockLimitHighCrankDeg > 12 {
		t.Errorf("limit to %v", out.KnockLimitHighCrankDeg)
	}
}

package coil

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/spark"
)

func crOf(r float64) Engine { return Engine{Cylinder: spark.Cylinder{CompressionRatio: num(r)}} }

// A 6 V car with 5.4 V at the coil feed and a reversed coil passed, because
// neither was looked at.
func TestSixVoltsWithALossInTheFeedAndReversedDoesNotPass(t *testing.T) {
	sound := SweepIn{SupplyV: 6.9, StoppedV: num(6.3), Coil: Coil{PrimaryOhm: num(1.3)}, Plug: Plug{Polarity: "right"},
		Engine: crOf(6.5)}
	if out := sweep(t, sound); out.Verdict != "pass" {
		t.Fatalf("the sound car: %s, %+v", out.Verdict, out.Findings)
	}
	ill := sound
	ill.Plug.Polarity, ill.Feed = "wrong", Feed{ClosedV: num(5.4)}
	out := sweep(t, ill)
	if out.Verdict != "fail" || !out.Findings.Has("feed-drop") || !out.Findings.Has("polarity-wrong") {
		t.Errorf("%s, %+v", out.Verdict, out.Findings)
	}
	near(t, "ohms before the coil", *out.FeedOhm, (6.3-5.4)/(5.4/1.3), 1e-9)
	near(t, "ohms in all", out.TotalOhm, 1.3+*out.FeedOhm, 1e-9)
	before := sweep(t, sound)
	if out.Rows[3].RealLowKV >= before.Rows[3].RealLowKV || out.Rows[3].RequiredKV <= before.Rows[3].RequiredKV {
		t.Errorf("neither feed nor polarity is in the kilovolts: %+v, %+v", out.Rows[3], before.Rows[3])
	}
	for name, one := range map[string]SweepIn{
		"feed alone": {SupplyV: 6.9, StoppedV: num(6.3), Coil: Coil{PrimaryOhm: num(1.3)},
			Plug: Plug{Polarity: "right"}, Engine: crOf(6.5), Feed: Feed{ClosedV: num(5.4)}},
		"polarity alone": {SupplyV: 6.9, StoppedV: num(6.3), Coil: Coil{PrimaryOhm: num(1.3)},
			Plug: Plug{Polarity: "wrong"}, Engine: crOf(6.5)},
		"running": {SupplyV: 6.9, Coil: Coil{PrimaryOhm: num(1.3)}, Plug: Plug{Polarity: "right"},
			Engine: crOf(6.5), Feed: Feed{RunningV: num(5.9)}},
		"cranking": {SupplyV: 6.9, Coil: Coil{PrimaryOhm: num(1.3)}, Plug: Plug{Polarity: "right"},
			Engine: crOf(6.5), Feed: Feed{CrankingV: num(2.2)}},
	} {
		if out := sweep(t, one); out.Verdict == "pass" {
			t.Errorf("%s passes: %s", name, out.Summary)
		}
	}
}

// The range is the trade's 20 to 30 kV for the usual 12 V coil (common
// practice), and each loss is stated with its source.
func TestTheRangeIsTheTrades(t *testing.T) {
	out := sweep(t, SweepIn{SupplyV: 12})
	near(t, "least", out.Rows[0].RealLowKV, 20, 1)
	near(t, "most", out.Rows[0].RealHighKV, 30, 0.6)
	if len(out.Losses) != 3 {
		t.Fatalf("%+v", out.Losses)
	}
	for _, l := range out.Losses {
		if l.Source == "" || l.Words == "" || !strings.Contains(strings.Join(out.Working, " "), l.Words) {
			t.Errorf("%+v", l)
		}
	}
	own := sweep(t, SweepIn{SupplyV: 12, Losses: Losses{ShareLow: num(0.7), ShareHigh: num(0.7)},
		Coil: Coil{SecondaryPicoF: num(50)}})
	near(t, "losses as given", own.Rows[0].RealLowKV, 0.7*own.Rows[0].AvailableKV, 1e-9)
	if _, err := Sweep(SweepIn{SupplyV: 12, Cylinders: 4, EngineRPM: []float64{800},
		Points: Points{DwellDistDeg: num(60)}, Losses: Losses{ShareLow: num(0.9)}}); err == nil {
		t.Error("a least above the most was accepted")
	}
}

// Whatever the car: a dirty plug is never passed on the lossless peak, and what
// passes has kilovolts to spare with the heaviest losses.
func TestNothingPassesOnTheLosslessPeak(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := SweepIn{SupplyV: rapid.Float64Range(5.5, 15).Draw(t, "volts"), Cylinders: rapid.SampledFrom([]int{4, 6,
			8}).Draw(t, "cylinders"), EngineRPM: []float64{800, 3000, 5000},
			Points: Points{DwellPercent: num(60)}, Plug: Plug{GapMm: num(rapid.Float64Range(0.4, 1.2).Draw(t, "gap")),
				Polarity: rapid.SampledFrom([]string{"right", "wrong", "unknown"}).Draw(t, "polarity")},
			Engine: crOf(rapid.Float64Range(5, 10).Draw(t, "CR"))}
		out, err := Sweep(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range out.Rows {
			if !(r.RealLowKV <= r.RealHighKV && r.RealHighKV < r.AvailableKV && r.DirtyLowKV <= r.RealLowKV &&
				r.DirtyHighKV <= r.RealHighKV) {
				t.Fatalf("not in order: %+v", r)
			}
			if r.Verdict == "pass" && (r.RealLowKV < r.RequiredKV || r.DirtyLowKV < r.RequiredGoodKV) ||
				r.DirtyPlug == "enough" && r.DirtyLowKV < r.RequiredKV {
				t.Fatalf("passes on the peak: %+v", r)
			}
		}
		if out.Verdict == "pass" && in.Plug.Polarity == "wrong" {
			t.Fatal("a reversed coil passes")
		}
		if strings.Contains(out.Summary, "even where") {
			for _, r := range out.Rows {
				if r.DirtyPlug != "enough" {
					t.Fatalf("%q: %+v", out.Summary, r)
				}
			}
		}
	})
}

// The ohms found from the mean volts of an idling engine are those that made
// them; two readings that cannot both be right are asked about.
func TestFeedOhmsFromTheMeanOfAMeter(t *testing.T) {
	r := run{in: SweepIn{SupplyV: 13.8, Cylinders: 4}, circuit: Coil{PrimaryOhm: num(3)}.complete(false), dwell: 60}
	for _, ohm := range []float64{0.2, 0.5, 1.5} {
		shown := 13.8 - ohm*r.meanAmps(13.8, 3+ohm, idleRPM)
		near(t, "ohms", r.ohmByMean(13.8, shown, idleRPM), ohm, 1e-6)
	}
	// A long idle: the mean is two thirds of the full current less the charge's lag.
	near(t, "mean", r.meanAmps(12, 3, 1), 4*2.0/3, 0.01)
	out := sweep(t, SweepIn{SupplyV: 13.8, StoppedV: num(12.6), Feed: Feed{ClosedV: num(12.9)}})
	if len(out.Ask) == 0 || out.FeedOhm != nil || !strings.Contains(strings.Join(out.Ask, " "), "Read both again") {
		t.Errorf("12.9 V at the coil of 12.6: %v, %v", out.Ask, out.FeedOhm)
	}
}

// The measured start stands beside the two that are worked out.
func TestTheMeasuredStartIsItsOwnRow(t *testing.T) {
	out := sweep(t, SweepIn{SupplyV: 13.8, Coil: Coil{PrimaryOhm: num(1.5), BallastOhm: num(1.5)},
		Cranking: Cranking{BatteryV: num(10)}, Feed: Feed{CrankingV: num(5)}})
	if len(out.Cranking) != 3 || !out.Cranking[2].Measured || *out.Cranking[2].FeedV != 5 {
		t.Fatalf("%+v", out.Cranking)
	}
	if out.Cranking[2].CurrentA >= out.Cranking[1].CurrentA || !out.Findings.Has("coil-low-cranking") &&
		!out.Findings.Has("cranking-short") {
		t.Errorf("half the volts do nothing: %+v, %+v", out.Cranking[2], out.Findings)
	}
}

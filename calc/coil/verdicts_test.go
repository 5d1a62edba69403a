package coil

import "testing"

func TestPolarity(t *testing.T) {
	for _, c := range []struct {
		in                    PolarityIn
		verdict, wanted, spot string
	}{
		{PolarityIn{Earth: "negative", Marks: "plus-minus", DistributorTerminal: "-"}, "pass", "-", "negative"},
		{PolarityIn{Earth: "negative", Marks: "plus-minus", DistributorTerminal: "+"}, "fail", "-", "positive"},
		{PolarityIn{Earth: "positive", Marks: "plus-minus", DistributorTerminal: "+"}, "pass", "+", "negative"},
		{PolarityIn{Earth: "positive", Marks: "plus-minus", DistributorTerminal: "-"}, "fail", "+", "positive"},
		{PolarityIn{Earth: "positive", Marks: "sw-cb", DistributorTerminal: "CB", MadeForEarth: "positive"}, "pass",
			"CB", "negative"},
		{PolarityIn{Earth: "negative", Marks: "sw-cb", DistributorTerminal: "CB", MadeForEarth: "positive"}, "fail",
			"SW", "positive"},
		{PolarityIn{Earth: "negative", Marks: "sw-cb", DistributorTerminal: "CB"}, "unknown", "CB", "unknown"},
		{PolarityIn{Earth: "negative", Flare: "plug"}, "pass", "", "negative"},
		{PolarityIn{Earth: "negative", DishedElectrode: "earth"}, "fail", "", "positive"},
		{PolarityIn{Earth: "negative", Flare: "plug", KVNeedle: "backwards"}, "unknown", "", "unknown"},
		{PolarityIn{Earth: "negative", Marks: "plus-minus", DistributorTerminal: "-", Flare: "lead"}, "watch",
			"-", "positive"},
		{PolarityIn{Earth: "negative"}, "unknown", "", "unknown"},
	} {
		out, err := Polarity(c.in)
		if err != nil || out.Verdict != c.verdict || out.WantedDistributorTerminal != c.wanted ||
			out.CentreElectrode != c.spot || out.Summary == "" {
			t.Errorf("%+v: %+v (%v)", c.in, out, err)
		}
	}
}

// Where the wire belongs is a sentence that is true of what is known.
func TestWhereTheWireBelongsIsSaidInWords(t *testing.T) {
	for _, c := range []struct {
		in   PolarityIn
		says string
	}{
		{PolarityIn{Earth: "positive", Marks: "plus-minus"},
			"With positive earth the distributor's wire belongs on the terminal marked +."},
		{PolarityIn{Earth: "negative", Marks: "plus-minus"},
			"With negative earth the distributor's wire belongs on the terminal marked −."},
		{PolarityIn{Earth: "negative", Marks: "sw-cb", MadeForEarth: "positive"},
			"This coil was made for positive earth, so on negative earth the distributor's wire belongs on the terminal marked SW."},
		{PolarityIn{Earth: "negative", Marks: "sw-cb"}, "The distributor's wire belongs on CB if the coil was made for negative earth, on SW if for positive: which, the spark tells."},
		{PolarityIn{Earth: "negative", Marks: "none"},
			"Nothing is marked on the coil, so only the spark tells which terminal is the distributor's."},
		{PolarityIn{Earth: "negative"}, "What is stamped at the coil's terminals is not known yet: look there, or let the spark tell which is the distributor's."},
	} {
		out, err := Polarity(c.in)
		if err != nil || out.WantedText != c.says || out.Working[0] != c.says {
			t.Errorf("%+v: %q, %q (%v)", c.in, out.WantedText, out.Working, err)
		}
	}
}

func TestCondenser(t *testing.T) {
	for _, c := range []struct {
		in            CondenserIn
		verdict, code string
	}{
		{CondenserIn{CondenserMicroF: num(0.2)}, "pass", ""},
		{CondenserIn{CondenserMicroF: num(0.249)}, "pass", ""}, // judged fine: a motorcycle club's technical page
		{CondenserIn{CondenserMicroF: num(0.16)}, "watch", "condenser-small"},
		{CondenserIn{CondenserMicroF: num(0.1)}, "fail", "condenser-small"},
		{CondenserIn{CondenserMicroF: num(0.28)}, "watch", "condenser-large"},
		{CondenserIn{CondenserMicroF: num(0.5)}, "fail", "condenser-large"},
		{CondenserIn{CondenserMicroF: num(0.2), InsulationMOhm: num(3)}, "watch", "condenser-leaks"},
		{CondenserIn{CondenserMicroF: num(0.2), SeriesOhm: num(1.5)}, "fail", "condenser-series"},
		{CondenserIn{Pit: "fixed", Earth: "negative"}, "watch", "pit-minus"},
		{CondenserIn{Pit: "fixed", Earth: "positive"}, "watch", "pit-plus"},
		{CondenserIn{Pit: "arm", Earth: "positive"}, "watch", "pit-minus"},
		{CondenserIn{Pit: "arm"}, "unknown", ""},
		// the car's own range beats the general one
		{CondenserIn{CondenserMicroF: num(0.28), OwnMinMicroF: num(0.24), OwnMaxMicroF: num(0.3)}, "pass", ""},
		{CondenserIn{CondenserMicroF: num(0.2), OwnMinMicroF: num(0.24), OwnMaxMicroF: num(0.3)}, "fail",
			"condenser-small"},
		{CondenserIn{Hot: "worse", CondenserMicroF: num(0.2)}, "fail", "condenser-hot"},
		{CondenserIn{Arc: "heavy"}, "fail", "condenser-arc"},
		{CondenserIn{Arc: "small", Hot: "same"}, "pass", ""},
		{CondenserIn{Hot: "unknown", Arc: "unknown"}, "unknown", ""},
		{CondenserIn{}, "unknown", ""},
	} {
		c.in.SupplyV = 13.8
		out, err := JudgeCondenser(c.in)
		if err != nil || out.Verdict != c.verdict || c.code != "" && !out.Findings.Has(c.code) {
			t.Errorf("%+v: %s %+v (%v)", c.in, out.Verdict, out.Findings, err)
		}
		for _, f := range out.Findings {
			if f.Code[:3] == "pit" && f.Sureness != "possible" {
				t.Errorf("a weak hint is called %s", f.Sureness)
			}
		}
	}
}

// Too small: faster and higher across the points; too large: slower and lower
// (directions: US Army TM 5-4240-501-14&P, p. 288, by analogy).
func TestDirectionOfCapacity(t *testing.T) {
	small, _ := JudgeCondenser(CondenserIn{SupplyV: 13.8, CondenserMicroF: num(0.1)})
	large, _ := JudgeCondenser(CondenserIn{SupplyV: 13.8, CondenserMicroF: num(0.5)})
	if !(*small.PeakPrimaryV > small.UsualPeakV && small.UsualPeakV > *large.PeakPrimaryV &&
		*small.PeakAtMicroS < small.UsualAtMicroS && small.UsualAtMicroS < *large.PeakAtMicroS) {
		t.Errorf("small %v V at %v, usual %v at %v, large %v at %v", *small.PeakPrimaryV, *small.PeakAtMicroS,
			small.UsualPeakV, small.UsualAtMicroS, *large.PeakPrimaryV, *large.PeakAtMicroS)
	}
}

// A smaller condenser lifts the volts faster and higher, a larger one slower
// and lower; and which contact builds up metal turns with the earth.
func TestCondenserSizesAndWhatTheyDo(t *testing.T) {
	for earth, builds := range map[string][2]string{"negative": {"arm", "fixed"}, "positive": {"fixed", "arm"},
		"": {"unknown", "unknown"}} {
		out, err := JudgeCondenser(CondenserIn{SupplyV: 13.8, Earth: earth})
		if err != nil {
			t.Fatal(err)
		}
		if len(out.Sizes) != len(sizesShown) || len(out.Effects) != 2 || out.Effects[0].Gains != builds[0] ||
			out.Effects[1].Gains != builds[1] {
			t.Errorf("%q: %+v %+v", earth, out.Sizes, out.Effects)
		}
		for i := 1; i < len(out.Sizes); i++ {
			a, b := out.Sizes[i-1], out.Sizes[i]
			if b.RiseVPerMicroS >= a.RiseVPerMicroS || b.PeakSecondaryKV >= a.PeakSecondaryKV ||
				b.PeakAtMicroS <= a.PeakAtMicroS {
				t.Errorf("%+v, then %+v", a, b)
			}
		}
	}
}

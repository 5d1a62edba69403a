package supply

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/refuse"
)

func num(x float64) *float64 { return &x }

// at makes readings of pairs "place", volts.
func at(pairs ...any) (out []Reading) {
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, Reading{At: pairs[i].(string), Volts: pairs[i+1].(float64)})
	}
	return out
}

func TestJudge(t *testing.T) {
	for _, c := range []struct {
		name                  string
		in                    JudgeIn
		verdict, guilty, code string
	}{
		{"sound 12 V, negative earth", JudgeIn{CoilOhm: num(3.1),
			Readings: at("battery", 12.6, "switchIn", 12.55, "switchOut", 12.5, "coilFeed", 12.45, "coilPoints", 0.12,
				"distributor", 0.08, "body", 0.02)}, "pass", "", ""},
		{"the switch, positive earth, meter the usual way round",
			JudgeIn{Earth: "positive", CoilOhm: num(3.1), Readings: at("battery", -12.6, "switchIn", -12.5, "switchOut",
				-11.1, "coilFeed", -11.0, "coilPoints", -0.15, "distributor", -0.08, "body", -0.02)}, "fail",
			"switchIn", "drop-switchIn"},
		{"the points", JudgeIn{Readings: at("battery", 12.6, "coilFeed", 12.4, "distributor", 0.45, "body", 0.03)},
			"fail", "distributor", "drop-distributor"},
		{"points between 0.1 and 0.2", JudgeIn{Readings: at("battery", 12.6, "coilFeed", 12.4, "distributor", 0.18,
			"body", 0.02)}, "watch", "distributor", "drop-distributor"},
		{"the clamp of the body", JudgeIn{Readings: at("battery", 12.6, "coilFeed", 12.4, "distributor", 0.34, "body",
			0.30, "engine", 0.02)}, "fail", "body", "drop-body"},
		{"6 V, the switch", JudgeIn{NominalV: 6, Earth: "positive", Readings: at("battery", 6.3, "switchIn", 6.25,
			"switchOut", 5.6, "coilFeed", 5.55)}, "fail", "switchIn", "drop-switchIn"},
		{"6 V, sound", JudgeIn{NominalV: 6, Earth: "positive",
			Readings: at("battery", 6.3, "switchIn", 6.25, "switchOut", 6.2, "coilFeed", 6.15)}, "pass", "", ""},
		{"ballast, right", JudgeIn{Ballasted: true, Readings: at("battery", 12.5, "ballastIn", 12.3, "ballastOut", 6.6,
			"coilFeed", 6.55, "distributor", 0.08)}, "pass", "", ""},
		{"ballast, too much lost", JudgeIn{Ballasted: true, Readings: at("battery", 12.5, "ballastIn", 12.4, "coilFeed",
			5.0, "distributor", 0.05)}, "fail", "", "ballast-high"},
		{"ballast, 3.5 V lost", JudgeIn{Ballasted: true, Readings: at("battery", 12.5, "ballastIn", 12.4, "coilFeed",
			9.0, "distributor", 0.05)}, "watch", "", "ballast-low"},
		{"bypass stuck", JudgeIn{Ballasted: true, Readings: at("battery", 12.4, "ballastIn", 12.3, "coilFeed", 12.1,
			"distributor", 0.05)}, "fail", "", "bypass-stuck"},
		{"cranking, bypass dead", JudgeIn{State: "cranking", Ballasted: true,
			Readings: at("battery", 10.4, "coilFeed", 5.6)}, "fail", "", "bypass-drop"},
		{"cranking, bypass good", JudgeIn{State: "cranking", Ballasted: true,
			Readings: at("battery", 10.4, "switchIn", 10.38, "ballastIn", 10.35, "coilFeed", 10.32)}, "pass", "", ""},
		{"cranking, battery falls", JudgeIn{State: "cranking", Readings: at("battery", 8.6, "switchIn", 8.55,
			"switchOut", 8.5, "coilFeed", 8.45)}, "fail", "", "battery-low"},
		{"6 V cranking at 5", JudgeIn{State: "cranking", NominalV: 6,
			Readings: at("battery", 5.0, "switchIn", 4.97, "switchOut", 4.95, "coilFeed", 4.93)}, "pass", "", ""},
		{"points open", JudgeIn{Readings: at("battery", 12.6, "coilFeed", 12.6, "coilPoints", 12.6, "distributor",
			12.6)}, "unknown", "", "points-open"},
		{"wire off between switch and coil", JudgeIn{Readings: at("battery", 12.6, "switchOut", 12.5, "coilFeed", 0.0,
			"distributor", 0.0)}, "fail", "switchOut", "open-circuit"},
		{"more volts than a 12 V car has", JudgeIn{Readings: at("battery", 26.0, "switchIn", 25.95, "switchOut", 25.9,
			"coilFeed", 25.85)}, "unknown", "", "battery-high"},
		{"12 V on a 6 V car", JudgeIn{NominalV: 6, Readings: at("battery", 12.6, "switchIn", 12.55, "switchOut", 12.5,
			"coilFeed", 12.45)}, "unknown", "", "battery-high"},
		{"volts that rise", JudgeIn{Readings: at("battery", 12.4, "switchIn", 12.7, "coilFeed", 12.35, "distributor",
			0.05)}, "unknown", "", "volts-rise"},
		{"only two places, nothing lost", JudgeIn{Readings: at("battery", 12.6, "coilFeed", 12.5)}, "unknown", "", ""},
		{"only two places, 1.5 V lost", JudgeIn{Readings: at("battery", 12.6, "coilFeed", 11.1)}, "fail", "battery",
			"drop-battery"},
	} {
		if c.in.NominalV == 0 {
			c.in.NominalV = 12
		}
		if c.in.Earth == "" {
			c.in.Earth = "negative"
		}
		if c.in.State == "" {
			c.in.State = "closed"
		}
		out, err := Judge(c.in)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if out.Verdict != c.verdict || out.Guilty != c.guilty || c.code != "" && !out.Findings.Has(c.code) {
			t.Errorf("%s: %s, guilty %q, %+v", c.name, out.Verdict, out.Guilty, out.Findings)
		}
	}
}

// Ohm's law on the way: 1.4 V at 3.5 A is 0.4 Ω.
func TestResistanceOfAStretch(t *testing.T) {
	out, err := Judge(JudgeIn{NominalV: 12, Earth: "negative", State: "closed", CoilOhm: num(3.1),
		Readings: at("battery", 12.6, "switchIn", 12.5, "switchOut", 11.1, "coilFeed", 11.0, "coilPoints", 0.15)})
	if err != nil || out.CurrentA == nil || math.Abs(*out.CurrentA-3.5) > 1e-9 ||
		math.Abs(*out.Stretches[1].Ohm-0.4) > 1e-9 {
		t.Errorf("%+v (%v)", out, err)
	}
}

// What is missing to know the current is named; what is given is not asked for.
func TestWhatTheCurrentWants(t *testing.T) {
	volts := at("battery", 12.6, "switchOut", 12.4, "distributor", 0.2)
	for _, c := range []struct {
		in   JudgeIn
		want string
	}{
		{JudgeIn{Readings: volts}, "not known: give the coil's ohms"},
		{JudgeIn{Readings: volts, CoilOhm: num(3.1)},
			"not known: measure at “coil, feed terminal” and “coil, distributor terminal” too"},
		{JudgeIn{Readings: append(at("coilFeed", 12.3), volts...), CoilOhm: num(3.1)},
			"not known: measure at “coil, distributor terminal” too"},
		{JudgeIn{Readings: append(at("ballastIn", 12.3), volts...), BallastOhm: num(1.5), Ballasted: true},
			"not known: measure at “ballast, out” too"},
		{JudgeIn{Readings: append(at("coilFeed", 12.3, "coilPoints", 12.2), volts[:2]...), CoilOhm: num(3.1)},
			"not known: no volts are lost across the coil"},
		{JudgeIn{Readings: volts[:2], CoilOhm: num(3.1), State: "cranking"},
			"not known: with the starter turning no reading tells it"},
	} {
		c.in.NominalV, c.in.Earth = 12, "negative"
		if c.in.State == "" {
			c.in.State = "closed"
		}
		if out, err := Judge(c.in); err != nil || out.CurrentBy != c.want {
			t.Errorf("%v: %q, want %q (%v)", c.in.Readings, out.CurrentBy, c.want, err)
		}
	}
}

// The drops add up to the battery, whatever was measured.
func TestDropsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := JudgeIn{NominalV: 12, Earth: "positive", State: rapid.SampledFrom([]string{"closed", "cranking"}).Draw(t,
			"state"), Ballasted: rapid.Bool().Draw(t, "ballast")}
		sign := rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign")
		for i, p := range way[:len(way)-1] {
			ballast := p.id == "ballastIn" || p.id == "ballastOut"
			if i == 0 || rapid.Bool().Draw(t, p.id) && (in.Ballasted || !ballast) {
				in.Readings = append(in.Readings, Reading{p.id, sign * rapid.Float64Range(0, 14).Draw(t, "volts")})
			}
		}
		out, err := Judge(in)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, s := range out.Stretches {
			sum += s.DropV
		}
		if math.Abs(sum-math.Abs(in.Readings[0].Volts)) > 1e-9 || out.Summary == "" {
			t.Fatalf("drops add to %v of %v", sum, in.Readings[0].Volts)
		}
	})
}

func TestRefusals(t *testing.T) {
	for field, in := range map[string]JudgeIn{
		"nominalV":          {NominalV: 9, Readings: at("battery", 9.0, "coilFeed", 8.0)},
		"readings":          {NominalV: 12, Readings: at("switchIn", 12.0, "coilFeed", 12.0)},
		"readings[1].at":    {NominalV: 12, Readings: at("battery", 12.0, "battery", 12.0)},
		"readings[1].volts": {NominalV: 12, Readings: at("battery", 12.0, "coilFeed", -11.0)},
		"readings[2].at":    {NominalV: 12, Readings: at("battery", 12.0, "coilFeed", 11.0, "ballastIn", 12.0)},
	} {
		_, err := Judge(in)
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field != field || bad.Do == "" || bad.Limit == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// What the person reads names places as they are called, never by their
// names in the code; and where the text offers several causes, it is not sure.
func TestPlacesAreNamedInWords(t *testing.T) {
	rise, err := Judge(JudgeIn{NominalV: 12, Earth: "negative", Ballasted: true, State: "closed",
		Readings: at("battery", 12.4, "switchOut", 11.9, "ballastIn", 12.3, "coilFeed", 7.0)})
	if err != nil || len(rise.Findings) == 0 || rise.Findings[0].Code != "volts-rise" {
		t.Fatalf("%+v %v", rise, err)
	}
	if f := rise.Findings[0]; f.Sureness == "sure" {
		t.Errorf("three causes are named, and still: %s", f.Sureness)
	}
	_, twice := Judge(JudgeIn{NominalV: 12, Earth: "negative", State: "closed",
		Readings: at("battery", 12.4, "switchOut", 12.3, "switchOut", 12.2)})
	read := append(append([]string{rise.Summary, twice.(*refuse.Error).Problem}, rise.Ask...), rise.Working...)
	for _, f := range rise.Findings {
		read = append(append(read, f.Title, f.Text, f.DisprovedBy), f.Working...)
	}
	for _, line := range read {
		for _, p := range way {
			if p.id != "battery" && p.id != "distributor" && p.id != "body" && p.id != "engine" &&
				strings.Contains(line, p.id) {
				t.Errorf("%s is a name in the code: %q", p.id, line)
			}
		}
	}
}

package points

import "testing"

func book() *Range { return &Range{57, 63} }
func gaps() *Range { return &Range{0.35, 0.41} }

func TestJudge(t *testing.T) {
	run := func(dwell ...float64) (out []SpeedReading) {
		for i, d := range dwell {
			out = append(out, SpeedReading{[]float64{800, 1500, 800, 4000, 5000}[i], d})
		}
		return out
	}
	for _, c := range []struct {
		name                 string
		in                   JudgeIn
		verdict, trust, code string
		first                string // reason
	}{
		{"steady to 2 passes", JudgeIn{Speeds: run(60, 58)}, "pass", "unknown", "dwell-steady", ""},
		{"between 2 and 3 is watched", JudgeIn{Speeds: run(60, 57.5)}, "watch", "unknown", "dwell-wanders", ""},
		// Stour Six before overhaul (invented demo): 35 at idle, 30.5 at 1500.
		{"over 3 fails", JudgeIn{Cylinders: 6, Speeds: run(35, 30.5)}, "fail", "unknown", "dwell-wanders", ""},
		{"a fall at high speed is bounce", JudgeIn{Speeds: run(60, 59, 60, 59, 51)}, "fail", "unknown",
			"points-bounce", ""},
		{"centre pivot, 3 under vacuum", JudgeIn{PlatePivot: "centre", Vacuum: []VacuumReading{{0, 60}, {67, 57}}},
			"fail", "unknown", "plate-moves-dwell", ""},
		{"side pivot, 3 under vacuum", JudgeIn{PlatePivot: "side", Vacuum: []VacuumReading{{0, 60}, {67, 57}}}, "watch",
			"unknown", "plate-side-pivot", ""},
		{"pivot not known", JudgeIn{Vacuum: []VacuumReading{{0, 60}, {67, 57}}}, "watch", "unknown",
			"plate-moves-dwell", ""},
		{"used, dwell low for its gap", JudgeIn{State: "used", GapMm: num(0.38), GapBook: gaps(), DwellDistDeg: num(50),
			DwellBook: book()}, "fail", "dwell", "gap-dwell-disagree", "pitted-faces"},
		{"new, dwell low for its gap", JudgeIn{State: "new", GapMm: num(0.38), GapBook: gaps(), DwellDistDeg: num(50),
			DwellBook: book()}, "fail", "neither", "gap-dwell-disagree", "off-peak"},
		{"dwell high for its gap", JudgeIn{State: "used", GapMm: num(0.50), GapBook: gaps(), DwellDistDeg: num(60),
			DwellBook: book()}, "fail", "neither", "gap-dwell-disagree", "feeler"},
		{"wide gap and little dwell agree", JudgeIn{State: "used", GapMm: num(0.51), GapBook: gaps(),
			DwellDistDeg: num(53), DwellBook: book()}, "fail", "dwell", "dwell-out", ""},
		{"with the car's own slope they agree", JudgeIn{State: "used", SlopePerMm: num(-80), GapMm: num(0.46),
			GapBook: gaps(), DwellDistDeg: num(53.6), DwellBook: book()}, "fail", "dwell", "dwell-out", ""},
		{"both in the book", JudgeIn{GapMm: num(0.38), GapBook: gaps(), DwellDistDeg: num(60), DwellBook: book()},
			"pass", "dwell", "dwell-in-book", ""},
		{"a four read on the scale of an eight", JudgeIn{DwellDistDeg: num(30), DwellBook: book()}, "unknown",
			"unknown", "suspect-meter-scale", ""},
		{"electronic trigger", JudgeIn{Trigger: "electronic", DwellDistDeg: num(30)}, "unknown", "unknown",
			"trigger-no-dwell", ""},
		{"nothing given", JudgeIn{}, "unknown", "unknown", "", ""},
		{"new points alone", JudgeIn{State: "new", GapMm: num(0.3), GapBook: gaps()}, "fail", "gap", "gap-out", ""},
		{"twin, good", JudgeIn{Cylinders: 8, Twin: &Twin{27, 27, 34, &Range{26, 28}, &Range{32, 36}}}, "pass",
			"unknown", "twin-good", ""},
		{"twin, each right and the pair not", JudgeIn{Cylinders: 8,
			Twin: &Twin{27, 27, 29, &Range{26, 28}, &Range{32, 36}}}, "fail", "unknown", "twin-out", ""},
		{"twin, no book", JudgeIn{Cylinders: 8, Twin: &Twin{27, 27, 34, nil, nil}}, "unknown", "unknown",
			"twin-no-book", ""},
	} {
		if c.in.Cylinders == 0 {
			c.in.Cylinders = 4
		}
		out, err := Judge(c.in)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if out.Verdict != c.verdict || out.Trust != c.trust || c.code != "" && !out.Findings.Has(c.code) {
			t.Errorf("%s: verdict %s, trust %s, findings %+v", c.name, out.Verdict, out.Trust, out.Findings)
		}
		if c.first != "" && (len(out.Reasons) == 0 || out.Reasons[0].ID != c.first) {
			t.Errorf("%s: reasons %+v", c.name, out.Reasons)
		}
		if out.Summary == "" {
			t.Errorf("%s: no summary", c.name)
		}
	}
}

func TestJudgeRefuses(t *testing.T) {
	for _, in := range []JudgeIn{
		{Cylinders: 8, DwellDistDeg: num(46)},
		{Cylinders: 4, DwellBook: &Range{63, 57}},
		{Cylinders: 8, Speeds: []SpeedReading{{800, 60}}},
		{Cylinders: 8, Twin: &Twin{27, 27, 20, nil, nil}},
		{Cylinders: 8, Twin: &Twin{10, 10, 30, nil, nil}},
	} {
		if _, err := Judge(in); err == nil {
			t.Errorf("%+v was taken", in)
		}
	}
}

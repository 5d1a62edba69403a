package advance

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pointsmith/calc/refuse"
)

// TestChangesMoveTheCurveAsTheTradeKnows holds each change against what the
// trade expects of it (common practice): start, low slope, speed at which the
// secondary takes up, high slope, maximum; + later/steeper/higher, − the
// other way, 0 the same.
func TestChangesMoveTheCurveAsTheTradeKnows(t *testing.T) {
	m := engines[0].sound
	m.WeightGrowth = 0
	for _, c := range []struct {
		name                                string
		change                              Change
		start, lowSlope, knee, slope, limit int
	}{
		{"lighter primary", Change{PrimarySpring: ptr(0.7)}, -1, +1, -1, +1, 0},
		{"stronger primary", Change{PrimarySpring: ptr(1.4)}, +1, -1, +1, -1, 0},
		{"lighter secondary", Change{SecondarySpring: ptr(0.7)}, 0, 0, 0, +1, 0},
		{"stronger secondary", Change{SecondarySpring: ptr(1.4)}, 0, 0, 0, -1, 0},
		{"primary post out", Change{PrimaryPreload: ptr(1.5)}, +1, 0, +1, 0, 0},
		{"more slack", Change{SlackDistDeg: ptr(2.0)}, 0, 0, +1, 0, 0},
		{"less slack", Change{SlackDistDeg: ptr(-2.0)}, 0, 0, -1, 0, 0},
		{"heavier weights", Change{Weights: ptr(1.3)}, -1, +1, -1, +1, 0},
		{"smaller limit", Change{LimitDistDeg: ptr(11.0)}, 0, 0, 0, 0, -1},
		{"worn bush", Change{LimitDistDeg: ptr(15.0)}, 0, 0, 0, 0, +1},
	} {
		out, err := WhatIf(WhatIfIn{Model: m, Change: c.change})
		if err != nil {
			t.Fatal(err)
		}
		n := out.Model
		for _, held := range []struct {
			what      string
			was, is   float64
			direction int
		}{
			{"start", m.StartDistRPM, n.StartDistRPM, c.start},
			{"low slope", 1 / m.PrimaryRate, 1 / n.PrimaryRate, c.lowSlope},
			{"taking up", m.kneeRPM(), n.kneeRPM(), c.knee},
			{"high slope", 1 / (m.PrimaryRate + m.SecondaryRate), 1 / (n.PrimaryRate + n.SecondaryRate), c.slope},
			{"maximum", m.LimitDistDeg, n.LimitDistDeg, c.limit},
		} {
			if sign(held.is-held.was) != held.direction {
				t.Errorf("%s: %s went from %.4g to %.4g", c.name, held.what, held.was, held.is)
			}
		}
		if len(out.Words) != 1 {
			t.Errorf("%s: words %q", c.name, out.Words)
		}
	}
}

func sign(x float64) int {
	switch {
	case math.Abs(x) < 1e-9:
		return 0
	case x > 0:
		return 1
	}
	return -1
}

func TestNothingChangedIsTheSameCurve(t *testing.T) {
	out, err := WhatIf(WhatIfIn{Model: engines[1].sound,
		Change: Change{PrimarySpring: ptr(1.0), SlackDistDeg: ptr(0.0)}})
	if err != nil || len(out.Words) != 0 || math.Abs(out.Model.StartDistRPM-engines[1].sound.StartDistRPM) > 1e-9 ||
		out.Model.PrimaryRate != engines[1].sound.PrimaryRate {
		t.Errorf("%+v, words %q, %v", out.Model, out.Words, err)
	}
}

// Weights that lose their pull before the stop never meet it: refused by name,
// and what is named as the limit is taken.
func TestPullGoneBeforeTheStopIsRefused(t *testing.T) {
	model := Model{StartDistRPM: 300, PrimaryRate: .1, SecondaryRate: .7, KneeDistDeg: 8, LimitDistDeg: 13,
		WeightGrowth: -.05}
	with := func(limit, growth float64) Model {
		m := model
		m.LimitDistDeg, m.WeightGrowth = limit, growth
		return m
	}
	for _, c := range []struct {
		in           WhatIfIn
		field, limit string
		taken        WhatIfIn
	}{
		{WhatIfIn{Model: with(20, -.05)}, "model.weightGrowth", "at least -0.0495", WhatIfIn{Model: with(20, -.0495)}},
		{WhatIfIn{Model: with(40, -.05)}, "model.weightGrowth", "at least -0.0247", WhatIfIn{Model: with(40, -.0247)}},
		{WhatIfIn{Model: model, Change: Change{LimitDistDeg: ptr(20.0)}}, "change.limitDistDeg", "at most 19.8",
			WhatIfIn{Model: model, Change: Change{LimitDistDeg: ptr(19.7)}}},
	} {
		_, err := WhatIf(c.in)
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field != c.field || !strings.HasPrefix(bad.Limit, c.limit) {
			t.Errorf("%+v: %v", c.in, err)
		}
		out, err := WhatIf(c.taken)
		if err != nil || math.IsInf(out.LimitDistRPM, 0) || out.LimitDistRPM <= out.KneeDistRPM {
			t.Errorf("%+v: %v, stop at %v", c.taken, err, out.LimitDistRPM)
		}
	}
	if out, err := WhatIf(WhatIfIn{Model: model}); err != nil || out.LimitDistRPM <= 0 {
		t.Errorf("a stop at 13 is met: %v", err)
	}
}

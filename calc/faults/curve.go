package faults

import (
	"fmt"
	"strings"
)

// partRow says what a part of an account of the curve is: an outcome of the
// row F.curve, or of F.base. Both are in data/evidence.json.
type partRow struct{ curve, base string }

// parts of accounts, by their names in advance.judge. Those not here (figures
// in another unit, a zero of the bench moved, a pipe left on) say nothing of
// the car.
var parts = map[string]partRow{
	"sound":         {"in-band", "right"},
	"primary-early": {"early", ""}, "secondary-early": {"early", ""}, "stop-long": {"early", ""},
	"primary-late": {"short", ""}, "secondary-late": {"short", ""}, "stop-short": {"short", ""},
	"seized":     {"short", ""},
	"drag":       {"hangs", ""},
	"base-early": {"", "early"}, "base-late": {"", "late"},
}

// What the curve's inference believes beforehand, in round figures, from the
// priors of its accounts: sound 40, base 10, springs, posts and stops 36, drag
// 4, and pairs.
var (
	curveBefore = map[string]float64{"in-band": 0.55, "early": 0.19, "short": 0.21, "hangs": 0.05}
	baseBefore  = map[string]float64{"right": 0.8, "late": 0.1, "early": 0.1}
)

// heard is what the accounts say of curve and base together, by outcome.
type heard struct {
	joint    map[partRow]float64
	open     float64 // share of the accounts that say nothing of the car
	mark     float64 // share of those in which strobe and lamp differ
	baseRead bool
	best     Account
}

func hear(x Facts) heard {
	h := heard{joint: map[partRow]float64{}, open: 1, baseRead: x.BaseRead}
	for _, a := range x.Accounts {
		if a.Share > h.best.Share {
			h.best = a
		}
		pair, says := partRow{"in-band", "right"}, false
		for name := range strings.SplitSeq(a.ID, "+") {
			if name == "mark-off" {
				h.mark += a.Share
			}
			p, is := parts[name]
			says = says || is
			if p.curve != "" {
				pair.curve = p.curve
			}
			if p.base != "" {
				pair.base = p.base
				h.baseRead = h.baseRead || name != "sound"
			}
		}
		if says {
			h.joint[pair] += a.Share
			h.open -= a.Share
		}
	}
	h.open = max(h.open, 0)
	return h
}

// accounts of the curve become evidence on curve and base together, so that an
// early curve behind a late base speaks for both at once.
//
//	likelihood(h) = Σ share(u, v) / (before(u)·before(v)) · P(u | h) · P(v | h) + open
//
// u is an outcome of the curve, v of the base; where the base was not read, v
// falls away. The strobe at four speeds is then not asked, nor, where the base
// was read, the strobe at idle.
func (f *file) accounts(x Facts) {
	strobe := f.k.testAt["T12"]
	if len(x.Accounts) == 0 || f.known[strobe] { // read in this hunt: not twice
		return
	}
	h := hear(x)
	idle := f.k.testAt["T11"]
	h.baseRead = h.baseRead && !f.known[idle]
	curve, base := f.k.testAt["F.curve"], f.k.testAt["F.base"]
	f.known[strobe] = true
	likelihood := make([]float64, len(f.k.net.hyps))
	for i := range likelihood {
		likelihood[i] = h.open + accountFloor
	}
	for pair, share := range h.joint {
		u := f.k.tests[curve].outcomeAt(pair.curve)
		v := f.k.tests[base].outcomeAt(pair.base)
		for i := range likelihood {
			l := share / curveBefore[pair.curve] * f.k.net.nodes[curve].at(u, i)
			if h.baseRead {
				l *= f.k.net.nodes[base].at(v, i) / baseBefore[pair.base]
			}
			likelihood[i] += l
		}
	}
	if h.baseRead {
		f.known[idle] = true
	}
	f.all = append(f.all, evidence{id: "accounts", kind: "fact", test: none, likelihood: likelihood,
		text: fmt.Sprintf("curve on file: %s, %.0f in 100", strings.ReplaceAll(h.best.ID, "+", " and "),
			100*h.best.Share)})
	if h.mark > 0 {
		// 3 in 100 beforehand, as the curve's inference has it
		f.add("fact", "accounts", "F.mark", fmt.Sprintf("strobe and test lamp differ, %.0f in 100", 100*h.mark),
			[]float64{(1 - h.mark) / 0.97, h.mark / 0.03})
	}
}

// accountFloor stands for the accounts below one in a hundred, which are not
// listed.
const accountFloor = 0.01

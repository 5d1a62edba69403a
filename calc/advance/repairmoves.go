package advance

import (
	"math"
	"slices"

	"pointsmith/calc/advance/infer"
)

// move is one thing that can be done inside. Its amount is the logarithm of a
// ratio, degrees of slack, or the new limit.
type move struct {
	part, kind string // kind: post, spring, new spring, stop
	effort     float64
	low, high  float64
	only       *float64  // the one amount there is
	of         []float64 // the amounts that are at hand; any where there are none
	apply      func(u *infer.Governor, sound infer.Governor, x float64)
	change     func(c *MendChange, x float64)
}

// Work of each kind of change, a post bent a little being 1 (chosen: a post
// is bent in place, a spring has to be found, a stop made or welded).
const (
	postEffort   = 1
	springEffort = 2
	stopEffort   = 3
)

// lostRatio: a spring of which a quarter or less is left is lost or ruined and
// is not reckoned in ratios (chosen: one box of springs spans four to one).
const lostRatio = 0.25

// ways lists what can be done for a part, as far as it may be touched; more
// than one move in a way is done one after the other.
func (r *repair) waysFor(part string) [][]move {
	var ways [][]move
	add := func(allowed *bool, moves ...move) {
		if allowed == nil || *allowed {
			ways = append(ways, moves)
		}
	}
	switch part {
	case "primary-early", "primary-late":
		if part == "primary-early" && r.lost(false, func(g infer.Governor) float64 { return g.K1 }) {
			add(r.allow.PrimarySpring, newPrimary)
			return ways
		}
		add(r.allow.PrimaryPost, primaryPost)
		m := primarySpring.within(r.allow.PrimarySpringRatio)
		add(r.allow.PrimarySpring, m.among(r.allow.PrimarySprings))
	case "secondary-early", "secondary-late":
		if part == "secondary-early" && r.lost(true, func(g infer.Governor) float64 { return g.K2 }) {
			add(r.allow.SecondarySpring, newSecondary)
			return ways
		}
		add(r.allow.SecondaryPost, secondaryPost)
		m := secondarySpring.within(r.allow.SecondarySpringRatio)
		add(r.allow.SecondarySpring, m.among(r.allow.SecondarySprings))
	default:
		s := stopMove
		s.only = r.spec.LimitDistDeg
		if s.only == nil {
			s.of = r.allow.StopsDistDeg
		}
		add(r.allow.Stop, s)
	}
	return ways
}

// lostShare of the governors without the spring are enough to have it replaced:
// the book's own spring is right for one that is only weak, too, and no ratio
// is right for one that is lost (chosen).
const lostShare = 0.3

// lost tells whether a quarter or less is left of a spring in so many of the
// governors that it is replaced.
func (r *repair) lost(isSecondary bool, rate func(infer.Governor) float64) bool {
	sum := 0.0
	for _, u := range r.units {
		// what takes up past the stop never pulls
		if rate(u.Is) <= lostRatio*rate(u.Sound) || isSecondary && u.Is.Knee >= u.Is.Limit {
			sum += u.Share
		}
	}
	return sum > lostShare*r.total
}

func (m move) within(ratios []float64) move {
	if len(ratios) == 2 {
		m.low, m.high = math.Log(ratios[0]), math.Log(ratios[1])
	}
	return m
}

// among keeps the move to springs that are at hand.
func (m move) among(ratios []float64) move {
	for _, ratio := range ratios {
		m.of = append(m.of, math.Log(ratio))
	}
	return m
}

// amounts are those tried about x: what is at hand, else a grid of this width.
func (m move) amounts(x, width float64) []float64 {
	if len(m.of) > 0 {
		return m.of
	}
	out := make([]float64, gridSteps+1)
	for k := range out {
		out[k] = math.Min(m.high, math.Max(m.low, x+width*(float64(k)/gridSteps-0.5)))
	}
	return out
}

func positive(x float64) *float64 { return &x }

// Bounds of what can be had: springs from a quarter to four times as stiff
// (one box of springs spans about that: common practice), a tension at rest
// from a tenth to twelve times, slack within ten distributor degrees.
var (
	primaryPost = move{part: "primary", kind: "post", effort: postEffort, low: math.Log(0.1), high: math.Log(12),
		apply:  func(u *infer.Governor, _ infer.Governor, x float64) { u.U0 *= math.Exp(x) },
		change: func(c *MendChange, x float64) { c.PrimaryPreload = positive(math.Exp(x)) }}
	primarySpring = move{part: "primary", kind: "spring", effort: springEffort, low: math.Log(0.25), high: math.Log(4),
		apply: func(u *infer.Governor, _ infer.Governor, x float64) {
			u.U0, u.K1 = u.U0*math.Exp(x), u.K1*math.Exp(x)
		},
		change: func(c *MendChange, x float64) { c.PrimarySpring = positive(math.Exp(x)) }}
	newPrimary = move{part: "primary", kind: "new spring", effort: springEffort, only: positive(0),
		apply: func(u *infer.Governor, sound infer.Governor, _ float64) { // on its post as it stands
			u.U0, u.K1 = u.U0*sound.K1/u.K1, sound.K1
		},
		change: func(c *MendChange, _ float64) { c.Replace = append(slices.Clone(c.Replace), "primary") }}
	secondaryPost = move{part: "secondary", kind: "post", effort: postEffort, low: -10, high: 10,
		apply:  func(u *infer.Governor, _ infer.Governor, x float64) { u.Knee = math.Max(0, math.Max(0, u.Knee)+x) },
		change: func(c *MendChange, x float64) { c.SlackDistDeg = positive(x) }}
	secondarySpring = move{part: "secondary", kind: "spring", effort: springEffort, low: math.Log(0.25),
		high:   math.Log(4),
		apply:  func(u *infer.Governor, _ infer.Governor, x float64) { u.K2 *= math.Exp(x) },
		change: func(c *MendChange, x float64) { c.SecondarySpring = positive(math.Exp(x)) }}
	newSecondary = move{part: "secondary", kind: "new spring", effort: springEffort, only: positive(0),
		// of the book's length, where this one never takes up
		apply: func(u *infer.Governor, sound infer.Governor, _ float64) {
			if u.K2 = sound.K2; u.Knee >= u.Limit {
				u.Knee = sound.Knee
			}
		},
		change: func(c *MendChange, _ float64) { c.Replace = append(slices.Clone(c.Replace), "secondary") }}
	stopMove = move{part: "stop", kind: "stop", effort: stopEffort, low: 2, high: 20,
		apply:  func(u *infer.Governor, _ infer.Governor, x float64) { u.Limit = x },
		change: func(c *MendChange, x float64) { c.LimitDistDeg = positive(x) }}
)

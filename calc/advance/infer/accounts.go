package infer

import "math"

// account is one story of how the readings came about.
type account struct {
	prior float64
	sizes []size // believed of the places from sizeAt on
	other bool   // a second governor stands at otherUnitAt
	free  bool   // the base may stand anywhere
	mark  bool   // the strobe stands off the lamp
	total bool   // the book's rows hold its base, although they are marked without
	alone bool   // the unit is any governor: the book does not bound it
	make  func(q *prepared, x *point, v *view)
	name  func(x *point) string // id of one sample
}

// size is what is believed of one size: a normal law, with what lies nearer to
// none than least left out, because so small a change is none.
// far is the share of changes that are out of all proportion: a spring that is
// lost, a post bent flat. They are believed farWide times as wide.
type size struct{ mean, spread, least, far float64 }

// farWide is how much wider the far ones are believed (chosen).
const farWide = 4

func (s size) log(x float64) float64 {
	z := (x - s.mean) / s.spread
	if s.least > 0 && math.Abs(x) < s.least {
		return math.Inf(-1)
	}
	if s.far == 0 {
		return -z * z / 2
	}
	return ln((1-s.far)*exp(-z*z/2) + s.far/farWide*exp(-z*z/2/farWide/farWide))
}

// Sizes of the changes, each with its basis.
var (
	// distributor degrees: bodies are found up to 10 crank degrees out (common practice), less than 1.5 is setting
	baseSize = size{0, 3, 0.75, 0.1}
	// logarithm of the ratio: half to double is usual of a wrong or stretched spring (common practice)
	springSize = size{0, 0.7, 0.2, 0.1}
	// logarithm of the ratio of the tension at rest (chosen wide: a bent post halves or doubles it)
	postSize = size{0, 1.0, 0.3, 0.1}
	// logarithm of the ratio (common practice: wrong Governor of a pair differ by two or three times)
	secondarySize = size{0, 0.8, 0.2, 0.1}
	// distributor degrees: a worn loop or a bent post gives one to five (common practice)
	slackSize = size{0, 3, 1, 0}
	// distributor degrees: plates run 6 to 18, worn slots give one to four (common practice)
	stopSize = size{0, 3, 1, 0}
	// logarithm of the friction over a sound unit's: sticking is 1 distributor degree either way and more, five
	// times what is normal (common practice)
	dragSize = size{1.7, 0.5, 0, 0}
	zeroSize = size{0, 2, 1, 0} // distributor degrees a ring stands off (chosen)
	// logarithm: worn instruments are out by 5 to 20 in a hundred (common practice)
	tachSize    = size{0, 0.15, 0.04, 0}
	capsuleSize = size{7, 3, 0, 0} // distributor degrees: capsules give 4 to 15 (common practice)
	retardSize  = size{4, 2, 0, 0} // distributor degrees of a retard capsule (common practice)
	// share of the travel at which it stands; below none is none: mostly at rest (chosen)
	seizedSize = size{-0.4, 0.8, 0, 0}
)

// Shares of belief before anything is read, as weights: sound is met more often
// than any one fault; figures typed wrongly are met seldom but in many ways. All
// are judgement of the trade, no published count is known.
const (
	soundPrior     = 40
	basePrior      = 10
	springPrior    = 6
	postPrior      = 4
	lostPrior      = 1.5
	secondPrior    = 5
	slackPrior     = 5
	gonePrior      = 1
	stopPrior      = 9
	seizedPrior    = 3
	dragPrior      = 4
	zeroPrior      = 4
	pipePrior      = 4
	entryPrior     = 0.3
	tachPrior      = 0.5
	repairPrior    = 1
	unitPriorWrong = 0.5
	// of a pair of two usual faults: about three times as often as by chance (chosen: one wrong repair brings
	// another)
	pairPrior  = 1
	otherPrior = 0.5
)

func either(minus, plus string) func(*point) string {
	return func(x *point) string {
		if x[sizeAt] < 0 {
			return minus
		}
		return plus
	}
}

func fixedName(id string) func(*point) string { return func(*point) string { return id } }

// parts are the changes inside the unit, the building stones of the accounts.
type change struct {
	name  func(x *point, at int) string
	sizes []size
	apply func(x *point, at int, v *view)
}

func signed(minus, plus string) func(*point, int) string {
	return func(x *point, at int) string {
		if x[at] < 0 {
			return minus
		}
		return plus
	}
}

var (
	primarySpring = change{signed("primary-early", "primary-late"), []size{springSize},
		func(x *point, at int, v *view) {
			f := exp(x[at])
			v.unit.U0, v.unit.K1 = v.unit.U0*f, v.unit.K1*f
		}}
	primaryPost = change{signed("primary-early", "primary-late"), []size{postSize}, func(x *point, at int, v *view) {
		v.unit.U0 *= exp(x[at])
	}}
	primaryLost = change{func(*point, int) string { return "primary-early" }, nil, func(_ *point, _ int, v *view) {
		// a hundredth is left of it: the weights' own weight and rub
		v.unit.U0, v.unit.K1 = v.unit.U0*0.01, v.unit.K1*0.01
	}}
	secondarySpring = change{signed("secondary-early", "secondary-late"), []size{secondarySize},
		func(x *point, at int, v *view) {
			v.unit.K2 *= exp(x[at])
		}}
	secondarySlack = change{signed("secondary-late", "secondary-early"), []size{slackSize},
		func(x *point, at int, v *view) {
			v.unit.takeUp(x[at])
		}}
	secondaryLost = change{func(*point, int) string { return "secondary-early" }, nil, func(_ *point, _ int, v *view) {
		v.unit.K2 = 0
	}}
	stop = change{signed("stop-short", "stop-long"), []size{stopSize}, func(x *point, at int, v *view) {
		v.unit.Limit = max(0.3, v.unit.Limit+x[at])
	}}
	drag = change{func(*point, int) string { return "drag" }, []size{dragSize}, func(x *point, at int, v *view) {
		v.unit.Drag *= exp(x[at])
	}}
	seized = change{func(*point, int) string { return "seized" }, []size{seizedSize}, func(x *point, at int, v *view) {
		v.fixed, v.fixedAt = true, v.unit.Limit*min(1, max(0, x[at]))
	}}
	zeroMoved = change{signed("zero-late", "zero-early"), []size{zeroSize}, func(x *point, at int, v *view) {
		v.zero += x[at]
	}}
	// primary and secondary as they go into pairs: the logarithm of the ratio and what the post adds.
	primaryAny = change{signed("primary-early", "primary-late"), []size{{0, 0.7, 0.2, 0.15}, {0, 0.5, 0, 0.1}},
		func(x *point, at int, v *view) {
			f := exp(x[at])
			v.unit.U0, v.unit.K1 = v.unit.U0*f*exp(x[at+1]), v.unit.K1*f
		}}
)

func (c change) single(prior float64) *account {
	return &account{prior: prior, sizes: c.sizes, name: func(x *point) string { return c.name(x, sizeAt) },
		make: func(_ *prepared, x *point, v *view) { c.apply(x, sizeAt, v) }}
}

func pair(a, b change, prior float64) *account {
	next := sizeAt + len(a.sizes)
	return &account{prior: prior, sizes: append(append([]size{}, a.sizes...), b.sizes...),
		name: func(x *point) string { return a.name(x, sizeAt) + "+" + b.name(x, next) },
		make: func(_ *prepared, x *point, v *view) { a.apply(x, sizeAt, v); b.apply(x, next, v) }}
}

// withBase frees the base beside a change.
func withBase(c change, prior float64) *account {
	a := c.single(prior)
	a.free = true
	a.name = func(x *point) string { return baseName(x) + "+" + c.name(x, sizeAt) }
	return a
}

// hiding frees the base beside a pair inside: worn springs, and the body turned
// to hide what they do at idle.
func hiding(a *account) *account {
	inside := a.name
	a.free = true
	a.name = func(x *point) string { return baseName(x) + "+" + inside(x) }
	return a
}

// basePriorWrong: a base counted twice or left out is the slip that both books
// and lamps invite (common practice).
const basePriorWrong = 0.8

// triplePrior: two worn springs and a body turned to suit are met often enough
// where nobody has looked inside for years (chosen).
const triplePrior = 1

func baseName(x *point) string {
	if x[offsetAt] < 0 {
		return "base-late"
	}
	return "base-early"
}

package advance

import "strings"

// elements takes the id of an account apart.
func elements(id string) []string { return strings.Split(id, "+") }

// holds tells whether an account holds an element.
func holds(id, element string) bool {
	for _, e := range elements(id) {
		if e == element {
			return true
		}
	}
	return false
}

// Kinds of element.
const (
	kindSound   = "sound"
	kindInside  = "inside"  // springs, posts, stop, friction: the unit is opened
	kindBase    = "base"    // the body is turned
	kindBench   = "bench"   // the ring of the bench
	kindEntry   = "entry"   // the figures as typed
	kindPipe    = "pipe"    // the vacuum pipe was on
	kindBetween = "between" // something was changed between two sets
	kindOther   = "other"
)

// Parts of a breaker-point distributor that decide the curve.
const (
	partPrimary   = "primary spring or its post"
	partSecondary = "secondary spring or its post"
	partStop      = "stop (plate, slot or stop bush)"
	partWeights   = "weights, pivots and cam sleeve"
	partBody      = "body of the distributor (base)"
	partRing      = "zero of the bench ring, or weights that do not go fully in"
	partFigures   = "the figures as entered"
	partPipe      = "vacuum pipe"
	partUnit      = "springs and stop together"
)

// element is what an element of an account is called and how it is said.
type element struct {
	kind      string
	code      string // of its finding
	part      string
	direction string
	shape     string // of the curve
	suspicion string // mistake of entry
	short     string // in a few words, to stand in a title
	title     string // of its finding
	text      string
	disproof  string
}

const (
	curveNotBody = " Do not turn the body to cure it: that moves every speed alike and only hides the fault at one of them."
	readAgain    = "the same run read again, the speed settled 3 to 5 seconds at each point: if it comes out in the band, the first run was at fault"
)

// known is every element that an account may hold.
var known = map[string]element{
	"sound": {kind: kindSound, shape: "in-band", short: "nothing is wrong"},
	"other": {kind: kindOther, shape: "mixed", short: "none of these"},
	"primary-early": {kindInside, "curve-early", partPrimary, "too early", "early", "",
		"the primary spring is weak, or its post too far in",
		"Too much too early: primary spring weak or its post too slack",
		"The advance starts too soon and climbs too fast. Look for a stretched or lost primary spring, a worn hook, or a post bent in." + curveNotBody +
			" If it is left, the engine knocks at low speed.", readAgain},
	"primary-late": {kindInside, "curve-late", partPrimary, "too late", "late", "",
		"the primary spring is too strong, or its post too far out",
		"Late and slow: primary spring too strong, or its post too far out",
		"The readings are low from the low speeds on. First clean and oil weight pivots and cam sleeve and read again: old grease does this too. " +
			"If it stays, the primary spring is too strong or its post is bent out too far." + curveNotBody, readAgain},
	"secondary-early": {kindInside, "curve-early", partSecondary, "too early", "early", "",
		"the secondary spring is weak or takes up too late",
		"Too much in the upper half: the secondary spring is weak or takes up too late",
		"The start is right, the upper half is high. Look for a worn hook, a loop too long, a post bent in, a lost or weak secondary spring. " +
			"Take up the slack at its post before changing springs." + curveNotBody, readAgain},
	"secondary-late": {kindInside, "curve-late", partSecondary, "too late", "late", "",
		"the secondary spring is too strong or takes up too soon",
		"Slow in the upper half: secondary spring too strong or taking up too soon",
		"The low speeds are right, the upper ones low and still climbing. Ease its post in, or fit a lighter spring." +
			curveNotBody, readAgain},
	"stop-long": {kindInside, "limit-over", partStop, "too much", "over-limit", "", "the stop lets too much through",
		"Too much at the top: stop worn or missing",
		"The curve agrees until the top and then goes over. Look for a worn slot, a worn or missing stop bush, or a plate with another number. " +
			"This is the advance that breaks pistons at full throttle: do not hold high speed under load until it is put right." + curveNotBody,
		"the number on the plate, and the travel turned by hand to the stop, both agree with the book"},
	"stop-short": {kindInside, "limit-under", partStop, "too little", "under-limit", "", "the stop comes far too soon",
		"Stops short: the stop comes too soon",
		"The curve is right low down and then stands level: the weights meet their stop too soon. Look for a plate with a smaller number, " +
			"a bush too thick, dirt in the slot, or a wrong part." + curveNotBody,
		"the rotor turned by hand to the stop travels the full number on the plate"},
	"seized": {kindInside, "curve-stuck", partWeights, "seized", "stuck", "", "the advance does not move",
		"The advance does not move",
		"The reading hardly changes while the book rises. Weights or cam sleeve are seized, or a weight or its pin is lost. Free, clean and oil " +
			"them: turned in its running direction and let go, the rotor must spring back fully and briskly." +
			curveNotBody,
		"the rotor, turned in its running direction by hand, moves to the stop and springs back: then the readings are at fault"},
	"drag": {kindInside, "sticking", partWeights, "late on falling", "sticking", "", "the weights drag",
		"The advance sticks",
		"The weights or the cam sleeve do not move freely: late going up, late coming back. Clean and oil the sleeve under the rotor and the " +
			"weight pivots before judging any spring. On the road it idles high after a run, and the base seems to move." + curveNotBody,
		"a second run, up and down, shows rising and falling together"},
	"wrong-unit": {kindInside, "curve-mixed", partUnit, "high and low", "mixed", "",
		"more than one thing is off inside, or it is the wrong unit",
		"High in one place and low in another: more than one thing, or the wrong unit",
		"No single spring, post or stop does this. Check first that this distributor is the one the book means (type number, number on the plate)." + curveNotBody, readAgain},
	"base-early": {kind: kindBase, code: "base-moved", part: partBody, direction: "too early", shape: "base-only",
		short: "the base was set early"},
	"base-late": {kind: kindBase, code: "base-moved", part: partBody, direction: "too late", shape: "base-only",
		short: "the base was set late"},
	"zero-early": {kind: kindBench, code: "bench-zero-moved", part: partRing, direction: "too high", shape: "base-only",
		short: "the bench ring stands off"},
	"zero-late": {kind: kindBench, code: "bench-zero-moved", part: partRing, direction: "too low", shape: "base-only",
		short: "the bench ring stands off"},
	"repaired-between": {kindBetween, "bench-car-differ", "drive, vacuum pipe, or the timing mark",
		"differs with speed", "in-band", "",
		"bench and car tell two curves", "Bench and car do not tell the same curve",
		"If something inside was changed between the two runs, they are two curves: judge the newer alone. If not, good on the bench and bad on the " +
			"car is the drive (gear, dog, chain), the vacuum pipe left on, or a slipped mark, not the springs. Turn nothing and change nothing inside until both agree.",
		"both runs taken again with the pipe off and plugged and the speed settled agree to a degree or two"},
	"mark-off": {kindBetween, "base-contradicted", "TDC mark, test lamp, strobe lead or vacuum pipe",
		"check before touching anything", "in-band", "",
		"test lamp and strobe disagree", "The test lamp disagrees with the strobe: turn nothing yet", "", ""},
	"pipe-advance": {kind: kindPipe, code: "suspect-vacuum-connected", part: partPipe,
		direction: "take off and plug", shape: "in-band", suspicion: "vacuum-connected",
		short: "the vacuum pipe was left on"},
	"pipe-retard": {kind: kindPipe, code: "suspect-vacuum-connected", part: partPipe,
		direction: "take off and plug", shape: "in-band", suspicion: "vacuum-connected",
		short: "the retard pipe was left on"},
	"degrees-doubled":     entry("angle-doubled", "the degrees were typed double"),
	"degrees-halved":      entry("angle-halved", "the degrees were typed half"),
	"both-doubled":        entry("angle-doubled", "degrees and speeds were typed double"),
	"both-halved":         entry("angle-halved", "degrees and speeds were typed half"),
	"degrees-tenfold":     entry("angle-tenfold", "the degrees were typed ten times too large"),
	"degrees-tenth":       entry("angle-tenfold", "the degrees were typed ten times too small"),
	"wheel-backwards":     entry("angle-backwards", "the ring was read backwards"),
	"speeds-doubled":      entry("speed-doubled", "the speeds were typed double"),
	"speeds-halved":       entry("speed-halved", "the speeds were typed half"),
	"speeds-tenfold":      entry("speed-tenfold", "the speeds were typed ten times too large"),
	"speeds-tenth":        entry("speed-tenfold", "the speeds were typed ten times too small"),
	"speeds-in-thousands": entry("speed-in-thousands", "the speeds were typed in thousands"),
	"tach-slow":           entry("tachometer", "the tachometer reads slow"),
	"tach-fast":           entry("tachometer", "the tachometer reads fast"),
	"columns-swapped":     entry("columns-swapped", "rising and falling were swapped"),
	"base-twice":          entry("base-twice", "the base was counted twice"),
	"base-missing":        entry("base-missing", "the base was left out"),
}

func entry(suspicion, short string) element {
	return element{kind: kindEntry, code: "suspect-" + suspicion, part: partFigures,
		direction: "check before touching anything",
		shape:     "in-band", suspicion: suspicion, short: short}
}

func isKind(kind string) func(id string) bool {
	return func(id string) bool {
		for _, e := range elements(id) {
			if known[e].kind == kind {
				return true
			}
		}
		return false
	}
}

var (
	isInside  = isKind(kindInside)
	isBase    = isKind(kindBase)
	isBench   = isKind(kindBench)
	isEntry   = isKind(kindEntry)
	isPipe    = isKind(kindPipe)
	isBetween = isKind(kindBetween)
)

// shapeOf is the shape of the curve under an account.
func shapeOf(id string) string {
	shape := ""
	for _, e := range elements(id) {
		s := known[e].shape
		switch {
		case known[e].kind != kindInside && (shape == "" || shape == "in-band"):
			if shape == "" || s != "in-band" {
				shape = s
			}
		case known[e].kind == kindInside && (shape == "" || shape == "in-band" || shape == "base-only"):
			shape = s
		case known[e].kind == kindInside && shape != s:
			shape = "mixed"
		}
	}
	return shape
}

// Shares at which a conclusion is sure and likely (contract).
const (
	sureShare   = 0.97
	likelyShare = 0.75
)

func sureness(share float64) string {
	switch {
	case share >= sureShare:
		return "sure"
	case share >= likelyShare:
		return "likely"
	}
	return "possible"
}

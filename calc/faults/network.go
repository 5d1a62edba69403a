package faults

import (
	"math"
	"slices"
	"strings"
)

// How often a cause gives the outcome it is listed under: 0.97 where the test
// reads the fault itself (a gap, volts, a mark against the piston), 0.9 where it
// decides, 0.7 where it supports, 0.45 and 0.2 for what is seen as often as not,
// and seldom. All five are judgement.
const (
	proving    = 0.97
	decisive   = 0.9
	supporting = 0.7
	unreliable = 0.45
	seldom     = 0.2
)

// leastFloor keeps every outcome possible under every hypothesis, so that
// nothing is ever ruled out for good (chosen).
const leastFloor = 0.004

// double: of a hundred cars that run badly, this share has two things wrong at
// once (judgement: old cars, parts changed at random).
const double = 0.15

// none marks a cause that a hypothesis does not have.
const none = -1

// hypothesis is what may be wrong: none listed, one cause, or two.
type hypothesis struct{ a, b int }

func (h hypothesis) has(c int) bool { return c != none && (h.a == c || h.b == c) }

// network is every hypothesis with, for each test, how often each outcome is
// seen under it.
type network struct {
	causes int
	hyps   []hypothesis // none, then each cause, then each pair
	nodes  []node
}

// node is one test in the network. Causes that the test does not know are all
// alike to it, so hypotheses fall into a few kinds.
type node struct {
	kind   []uint16    // by hypothesis
	says   [][]float64 // by outcome, by kind
	hidden []float64   // by kind: bits left open in the outcome when it is known
}

// table is a test as it is written down: for each cause, how often it gives
// each outcome; and how often each is seen without any cause.
type table struct {
	byCause [][]float64
	sound   []float64
	cure    bool
}

// hypotheses lists none, singles and pairs of so many causes.
func hypotheses(causes int) []hypothesis {
	all := []hypothesis{{none, none}}
	for a := range causes {
		all = append(all, hypothesis{a, none})
	}
	for a := range causes {
		for b := a + 1; b < causes; b++ {
			all = append(all, hypothesis{a, b})
		}
	}
	return all
}

// network makes the network of the knowledge.
func (k *knowledge) network() *network {
	tables := make([]table, len(k.tests))
	for i, t := range k.tests {
		tables[i] = k.table(t)
	}
	return newNetwork(len(k.causes), tables)
}

func newNetwork(causes int, tables []table) *network {
	n := &network{causes: causes, hyps: hypotheses(causes)}
	for _, t := range tables {
		n.nodes = append(n.nodes, n.node(t))
	}
	return n
}

func (n *network) node(t table) node {
	made := node{kind: make([]uint16, len(n.hyps)), says: make([][]float64, len(t.sound))}
	alike := t.alike()
	kinds := map[hypothesis]uint16{} // by causes that stand for all like them
	row := make([]float64, len(t.sound))
	for i, h := range n.hyps {
		like := hypothesis{alike[h.a+1], alike[h.b+1]}
		if like.b != none && like.b < like.a {
			like.a, like.b = like.b, like.a
		}
		at, is := kinds[like]
		if !is {
			at = uint16(len(kinds))
			kinds[like] = at
			t.under(like, row)
			open := 0.0
			for o, p := range row {
				made.says[o] = append(made.says[o], p)
				open -= bits(p)
			}
			made.hidden = append(made.hidden, open)
		}
		made.kind[i] = at
	}
	return made
}

// alike gives for none and for each cause (one place later) the first that the
// test does not tell from it.
func (t table) alike() []int {
	out := []int{none}
	for c, row := range t.byCause {
		first := c
		for d := range c {
			if slices.Equal(row, t.byCause[d]) {
				first = d
				break
			}
		}
		out = append(out, first)
	}
	return out
}

// bits is p·log2 p.
func bits(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return p * math.Log2(p)
}

// under fills row with the share of each outcome under a hypothesis.
//
//	one cause   as written down
//	two causes  a sound reading needs both to be silent:
//	                sound = sound(a)·sound(b) / sound(neither)
//	            the rest is shared out as a and b would each have it;
//	            a cure mends one of the two, so it is the mean of both
//	none        what is seen falsely
func (t table) under(h hypothesis, row []float64) {
	switch {
	case h.a == none:
		copy(row, t.sound)
	case h.b == none:
		copy(row, t.byCause[h.a])
	case t.cure:
		for o := range row {
			row[o] = (t.byCause[h.a][o] + t.byCause[h.b][o]) / 2
		}
	default:
		t.both(t.byCause[h.a], t.byCause[h.b], row)
	}
	level(row)
}

func (t table) both(a, b, row []float64) {
	row[0] = min(a[0]*b[0]/t.sound[0], a[0], b[0])
	sum := 0.0
	for o := 1; o < len(row); o++ {
		row[o] = max(a[o]+b[o]-t.sound[o], 0)
		sum += row[o]
	}
	for o := 1; o < len(row); o++ {
		row[o] *= (1 - row[0]) / sum
	}
}

// level lifts every outcome to the floor and makes them add up to one.
func level(row []float64) {
	sum := 0.0
	for o := range row {
		row[o] = max(row[o], leastFloor)
		sum += row[o]
	}
	for o := range row {
		row[o] /= sum
	}
}

// table reads a test: a cause gives the outcomes it is listed under as often
// as said, and the others as often as they are seen falsely.
func (k *knowledge) table(t test) table {
	made := table{sound: make([]float64, len(t.Outcomes)), cure: t.Cure}
	hits := make([][]float64, len(k.causes))
	for c := range hits {
		hits[c] = make([]float64, len(t.Outcomes))
	}
	made.sound[0] = 1
	for o, one := range t.Outcomes {
		if o > 0 {
			made.sound[o] = one.Falsely
			made.sound[0] -= one.Falsely
		}
		for hit, list := range one.lists() {
			for id := range strings.FieldsSeq(list) {
				at, is := k.causeAt[id]
				if !is || o == 0 {
					panic("faults: " + t.ID + " names " + id)
				}
				hits[at][o] = hit
			}
		}
	}
	for _, hit := range hits {
		made.byCause = append(made.byCause, withFalse(hit, made.sound))
	}
	return made
}

// withFalse makes a full row of what a cause gives: where its outcomes add up
// to more than a proving one, they are brought down to that.
func withFalse(hit, sound []float64) []float64 {
	sum := 0.0
	for _, p := range hit {
		sum += p
	}
	shrink := 1.0
	if sum > proving {
		shrink, sum = proving/sum, proving
	}
	row := make([]float64, len(hit))
	for o := range row {
		row[o] = hit[o] * shrink
		if hit[o] == 0 {
			row[o] = sound[o] * (1 - sum)
		}
	}
	listed := 0.0 // what was seen falsely of the listed outcomes is theirs already
	for o := 1; o < len(row); o++ {
		listed += row[o]
	}
	row[0] = 1 - listed
	return row
}

// belief is a share for each hypothesis.
type belief []float64

// times multiplies a belief by a likelihood and makes it add up to one.
func (b belief) times(likelihood []float64) {
	sum := 0.0
	for i := range b {
		b[i] *= likelihood[i]
		sum += b[i]
	}
	for i := range b {
		b[i] /= sum
	}
}

// marginals gives for each cause the share of the hypotheses that have it.
func (n *network) marginals(b belief) []float64 {
	out := make([]float64, n.causes)
	for i, h := range n.hyps {
		if h.a != none {
			out[h.a] += b[i]
		}
		if h.b != none {
			out[h.b] += b[i]
		}
	}
	return out
}

// seen is the likelihood of what was seen of a test: weights holds for each
// outcome how well what was seen agrees with it.
func (nd node) seen(weights []float64, out []float64) []float64 {
	byKind := make([]float64, len(nd.hidden))
	for o, w := range weights {
		for k, p := range nd.says[o] {
			byKind[k] += w * p
		}
	}
	for i, k := range nd.kind {
		out[i] = byKind[k]
	}
	return out
}

// at is how often an outcome is seen under a hypothesis.
func (nd node) at(outcome, hyp int) float64 { return nd.says[outcome][nd.kind[hyp]] }

// chances is how likely each outcome is by what is believed; open is what
// would be left open of it, in bits, if the hypothesis were known.
func (nd node) chances(b belief) (chances []float64, open float64) {
	byKind := make([]float64, len(nd.hidden))
	for i, k := range nd.kind {
		byKind[k] += b[i]
	}
	chances = make([]float64, len(nd.says))
	for k, share := range byKind {
		open += share * nd.hidden[k]
		for o := range chances {
			chances[o] += share * nd.says[o][k]
		}
	}
	return chances, open
}

// gain is the bits that a test tells of the hypotheses: what is open about
// its outcome now, less what would be open if the hypothesis were known.
//
//	gain = −Σ P(o)·log2 P(o) − Σ P(h)·H(o|h)
func (nd node) gain(b belief) float64 {
	chances, open := nd.chances(b)
	gain := -open
	for _, p := range chances {
		gain -= bits(p)
	}
	return max(gain, 0)
}

package faults

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// small draws a network of a few causes and tests.
func small(rt *rapid.T) (causes int, tables []table, stories told) {
	causes = rapid.IntRange(2, 5).Draw(rt, "causes")
	p := rapid.Float64Range(0.02, 0.9)
	row := func(outcomes int) []float64 {
		out, sum := make([]float64, outcomes), 0.0
		for o := range out {
			out[o] = p.Draw(rt, "p")
			sum += out[o]
		}
		for o := range out {
			out[o] /= sum
		}
		return out
	}
	for range rapid.IntRange(1, 4).Draw(rt, "tests") {
		outcomes := rapid.IntRange(2, 3).Draw(rt, "outcomes")
		t := table{sound: make([]float64, outcomes), cure: rapid.Bool().Draw(rt, "cure")}
		for o := 1; o < outcomes; o++ {
			t.sound[o] = rapid.Float64Range(0.01, 0.1).Draw(rt, "falsely")
		}
		t.sound[0] = 1
		for o := 1; o < outcomes; o++ {
			t.sound[0] -= t.sound[o]
		}
		for range causes {
			t.byCause = append(t.byCause, row(outcomes))
			if last := len(t.byCause) - 1; last > 0 && rapid.Bool().Draw(rt, "alike") {
				t.byCause[last] = t.byCause[last-1]
			}
		}
		tables = append(tables, t)
	}
	stories = told{base: row(causes + 1), linked: map[[2]int]float64{{0, 1}: 7}, often: row(3)}
	for range 3 {
		stories.byCause = append(stories.byCause, row(causes+1))
	}
	return causes, tables, stories
}

// likely is P(outcome | causes at work), written down a second time and in
// another way: by sets of causes, from the formulas in the doc comments.
func likely(t table, o int, at []int) float64 {
	raw := make([]float64, len(t.sound))
	switch len(at) {
	case 0:
		copy(raw, t.sound)
	case 1:
		copy(raw, t.byCause[at[0]])
	case 2:
		a, b := t.byCause[at[0]], t.byCause[at[1]]
		rest := 0.0
		for i := range raw {
			switch {
			case t.cure:
				raw[i] = 0.5*a[i] + 0.5*b[i]
			case i == 0:
				raw[0] = math.Min(a[0]*b[0]/t.sound[0], math.Min(a[0], b[0]))
			default:
				raw[i] = math.Max(0, a[i]+b[i]-t.sound[i])
				rest += raw[i]
			}
		}
		for i := 1; i < len(raw) && !t.cure; i++ {
			raw[i] *= (1 - raw[0]) / rest
		}
	}
	sum := 0.0
	for i := range raw {
		raw[i] = math.Max(raw[i], leastFloor)
		sum += raw[i]
	}
	return raw[o] / sum
}

// sets lists no cause, each, and every two.
func sets(causes int) (all [][]int) {
	all = append(all, nil)
	for a := range causes {
		all = append(all, []int{a})
		for b := range a {
			all = append(all, []int{b, a})
		}
	}
	return all
}

func prior(t told, causes int, at []int) float64 {
	pair := func(a, b int) float64 {
		p := t.base[a] * t.base[b]
		if a == 0 && b == 1 {
			p *= 7
		}
		return p
	}
	switch len(at) {
	case 0:
		return t.base[causes]
	case 1:
		return 0.85 * t.base[at[0]]
	}
	sum := 0.0
	for b := range causes {
		for a := range b {
			sum += pair(a, b)
		}
	}
	return 0.15 * (1 - t.base[causes]) * pair(at[0], at[1]) / sum
}

func story(t told, s, causes int, at []int) float64 {
	p := t.byCause[s][causes]
	if len(at) > 0 {
		p = 0
		for _, c := range at {
			p += t.byCause[s][c] / float64(len(at))
		}
	}
	return 0.9*p + 0.1*t.often[s]
}

// The network and brute force over sets agree to 1e-9: shares of causes, of
// none, and the gain of every test.
func TestInferenceIsBruteForce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		causes, tables, stories := small(rt)
		n := newNetwork(causes, tables)
		ones := make([]float64, causes)
		for i := range ones {
			ones[i] = 1
		}
		now := n.start(stories, ones)
		weights := make([][]float64, len(tables))
		said := rapid.IntRange(0, 2).Draw(rt, "said")
		now.times(n.tells(stories, said, make([]float64, len(now))))
		for i, tb := range tables {
			if i == 0 {
				continue // the first is left to be asked
			}
			for range tb.sound {
				weights[i] = append(weights[i], rapid.Float64Range(0.01, 1).Draw(rt, "weight"))
			}
			now.times(n.nodes[i].seen(weights[i], make([]float64, len(now))))
		}
		byCause, noneLeft, all := make([]float64, causes), 0.0, 0.0
		perSet := make([]float64, 0)
		for _, at := range sets(causes) {
			p := prior(stories, causes, at) * story(stories, said, causes, at)
			for i, w := range weights {
				sum := 0.0
				for o, x := range w {
					sum += x * likely(tables[i], o, at)
				}
				if w != nil {
					p *= sum
				}
			}
			perSet = append(perSet, p)
			all += p
			for _, c := range at {
				byCause[c] += p
			}
			if len(at) == 0 {
				noneLeft = p
			}
		}
		for c, got := range n.marginals(now) {
			if want := byCause[c] / all; math.Abs(got-want) > 1e-9 {
				rt.Fatalf("cause %d: %.12f, brute force %.12f", c, got, want)
			}
		}
		if math.Abs(now[0]-noneLeft/all) > 1e-9 {
			rt.Fatalf("none: %.12f, brute force %.12f", now[0], noneLeft/all)
		}
		want := 0.0 // mutual information from the joint distribution
		for o := range tables[0].sound {
			seen := 0.0
			for i, at := range sets(causes) {
				seen += perSet[i] / all * likely(tables[0], o, at)
			}
			for i, at := range sets(causes) {
				h := perSet[i] / all
				if p := h * likely(tables[0], o, at); p > 0 {
					want += p * math.Log2(p/(h*seen))
				}
			}
		}
		if got := n.nodes[0].gain(now); math.Abs(got-want) > 1e-9 {
			rt.Fatalf("gain %.12f, brute force %.12f", got, want)
		}
	})
}

// One symptom alone gives back the table it was written in, but for what is
// misheard and what may be two at once.
func TestOneSymptomGivesItsTable(t *testing.T) {
	k := known()
	for s, one := range k.symptoms {
		ones := make([]float64, len(k.causes))
		for i := range ones {
			ones[i] = 1
		}
		b := k.net.start(k.told, ones)
		b.times(k.net.tells(k.told, s, make([]float64, len(b))))
		singles := 0.0
		for i := range k.causes {
			singles += b[1+i]
		}
		for c := range k.causes {
			listed := one.shares[c] / (1 - one.shares[len(k.causes)])
			want := (0.9*k.told.often[s]*one.shares[c] + 0.1*k.told.often[s]*k.told.base[c]) /
				(0.9*k.told.often[s]*(1-one.shares[len(k.causes)]) + 0.1*k.told.often[s]*(1-k.told.base[len(k.causes)]))
			if got := b[1+c] / singles; math.Abs(got-want) > 1e-9 || math.Abs(got-listed) > 0.1 {
				t.Fatalf("%s %s: %.4f, table %.4f", one.ID, k.causes[c].ID, got, listed)
			}
		}
	}
}

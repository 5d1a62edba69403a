package faults

// What is told is told by people: one told symptom in ten is another than the
// car has, and one in five is not told at all (judgement).
// What is not told says nothing, so only the first is reckoned with.
const misheard = 0.1

// changedLast: a cause whose part was changed just before the trouble began is
// this many times as likely (judgement).
const changedLast = 3

// unlisted: a symptom that is not on the list makes trouble that is on no list
// this many times as likely (judgement).
const unlisted = 3

// told is how often each symptom is told, and by which causes.
type told struct {
	often   []float64   // by symptom, adding up to one
	base    []float64   // by cause, the last one what is on no list; adding up to one
	byCause [][]float64 // by symptom, by cause: share of this cause's stories that are this symptom
	linked  map[[2]int]float64
}

// stories turns the table (of a hundred cars with this symptom, how many have
// this cause) round into how often each cause tells each symptom:
//
//	base(c)        = Σ often(s)·share(c of s)
//	story(s of c)  = often(s)·share(c of s) / base(c)
//
// so that one symptom alone gives back the table, but for what is misheard.
func (k *knowledge) stories() told {
	t := told{base: make([]float64, len(k.causes)+1), linked: map[[2]int]float64{}}
	sum := 0.0
	for _, s := range k.symptoms {
		sum += s.Often
	}
	for _, s := range k.symptoms {
		often := s.Often / sum
		t.often = append(t.often, often)
		t.byCause = append(t.byCause, make([]float64, len(s.shares)))
		for c, share := range s.shares {
			t.base[c] += often * share
		}
	}
	for s, one := range k.symptoms {
		for c, share := range one.shares {
			if share > 0 {
				t.byCause[s][c] = t.often[s] * share / t.base[c]
			}
		}
	}
	return t
}

// start is the belief before anything is told or measured.
//
//	P(none) = base(none), P(c) ∝ base(c), P(c and d) ∝ base(c)·base(d)·linked(c, d)
//
// linked is how many times oftener two are met together than by chance, mostly
// one; times is 0 for what the car cannot have. Two at once have the share
// double of what is listed.
func (n *network) start(t told, times []float64) belief {
	b := make(belief, len(n.hyps))
	last := n.causes
	listed := 1 - t.base[last]
	pairs := 0.0
	for _, h := range n.hyps {
		if h.b != none {
			pairs += t.pair(h)
		}
	}
	for i, h := range n.hyps {
		switch {
		case h.a == none:
			b[i] = t.base[last]
		case h.b == none:
			b[i] = (1 - double) * t.base[h.a] * times[h.a]
		default:
			b[i] = double * listed * times[h.a] * times[h.b] * t.pair(h) / pairs
		}
	}
	sum := 0.0
	for _, p := range b {
		sum += p
	}
	for i := range b {
		b[i] /= sum
	}
	return b
}

// pair is how often two causes are met together, beside other pairs.
func (t told) pair(h hypothesis) float64 {
	p := t.base[h.a] * t.base[h.b]
	if times := t.linked[[2]int{h.a, h.b}]; times > 0 {
		p *= times
	}
	return p
}

// tells is the likelihood of a told symptom: nine times in ten it comes from
// one of the causes, with two causes from either; else it was misheard and is
// any symptom, as often as it is told.
func (n *network) tells(t told, s int, out []float64) []float64 {
	last := n.causes
	for i, h := range n.hyps {
		p := 0.0
		switch {
		case h.a == none:
			p = t.byCause[s][last]
		case h.b == none:
			p = t.byCause[s][h.a]
		default:
			p = (t.byCause[s][h.a] + t.byCause[s][h.b]) / 2
		}
		out[i] = (1-misheard)*p + misheard*t.often[s]
	}
	return out
}

// tellsUnlisted is the likelihood of a symptom that is on no list.
func (n *network) tellsUnlisted(out []float64) []float64 {
	for i, h := range n.hyps {
		out[i] = 1
		if h.a == none {
			out[i] = unlisted
		}
	}
	return out
}

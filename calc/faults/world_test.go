package faults

import (
	"math"
	"math/rand/v2"
	"slices"
)

// A world draws cars with known faults: what their owners tell and what each
// test shows. The judge knows nothing of which world it is in.
type world interface {
	// car draws a car with these causes; it answers its tests the same way each time.
	car(causes []int, r *rand.Rand) patient
}

// A patient is one car of a world.
type patient interface {
	// tells is what its owner says, as ids.
	tells() []string
	// shows is the outcome of a test.
	shows(test int) int
}

// modelWorld is the judge's own model, or one like it with its numbers moved.
type modelWorld struct {
	k      *knowledge
	told   told
	tables []table
	wrong  float64 // told symptoms that the car does not have
	silent float64 // symptoms that are not told
}

func ownWorld() *modelWorld {
	k := known()
	w := &modelWorld{k: k, told: k.told, wrong: misheard}
	for _, t := range k.tests {
		w.tables = append(w.tables, k.table(t))
	}
	return w
}

// perturbedWorld moves the odds of every likelihood and the weight of every
// story by up to a factor of two; its owners mishear 10 in 100 and leave out 20.
func perturbedWorld(r *rand.Rand) *modelWorld {
	w := ownWorld()
	w.silent = 0.2
	by := func() float64 { return math.Exp2(2*r.Float64() - 1) }
	for i := range w.tables {
		moved := table{cure: w.tables[i].cure, sound: movedRow(w.tables[i].sound, by)}
		for _, row := range w.tables[i].byCause {
			moved.byCause = append(moved.byCause, movedRow(row, by))
		}
		w.tables[i] = moved
	}
	w.told.byCause = slices.Clone(w.told.byCause)
	for s := range w.told.byCause {
		w.told.byCause[s] = slices.Clone(w.told.byCause[s])
		for c := range w.told.byCause[s] {
			w.told.byCause[s][c] *= by()
		}
	}
	return w
}

func movedRow(row []float64, by func() float64) []float64 {
	out := make([]float64, len(row))
	sum := 0.0
	for o, p := range row {
		out[o] = p
		if o > 0 {
			odds := p / (1 - p) * by()
			out[o] = odds / (1 + odds)
		}
		sum += out[o]
	}
	for o := range out {
		out[o] /= sum
	}
	return out
}

type modelCar struct {
	w      *modelWorld
	causes []int
	said   []string
	seen   map[int]int
	r      *rand.Rand
	seed   uint64 // of its answers
}

// ownChance gives a car chance of its own, so that it is the same car whatever is
// asked of it and in whatever order.
func ownChance(r *rand.Rand) *rand.Rand { return rand.New(rand.NewPCG(r.Uint64(), r.Uint64())) }

// perturbedWorlds is another perturbed world for each car.
type perturbedWorlds struct{}

func (perturbedWorlds) car(causes []int, r *rand.Rand) patient {
	own := ownChance(r)
	return perturbedWorld(own).car(causes, own)
}

func (w *modelWorld) car(causes []int, r *rand.Rand) patient {
	r = ownChance(r)
	c := &modelCar{w: w, causes: causes, seen: map[int]int{}, r: r, seed: r.Uint64()}
	tellers := causes
	if len(causes) == 0 {
		tellers = []int{len(w.k.causes)} // trouble that is on no list
	}
	for range 1 + r.IntN(3) { // one to three complaints
		of := tellers[r.IntN(len(tellers))]
		s := draw(r, func(s int) float64 { return w.told.byCause[s][of] }, len(w.told.often))
		c.hear(s)
	}
	if len(c.said) == 0 { // an owner who says nothing does not come
		c.said = append(c.said, w.k.symptoms[draw(r, func(s int) float64 {
			return w.told.byCause[s][tellers[0]]
		}, len(w.told.often))].ID)
	}
	return c
}

// hear passes a symptom on as its owner tells it.
func (c *modelCar) hear(s int) {
	c.said = told1(c.said, c.w.k, s, c.w.wrong, c.w.silent, c.r)
}

// told1 adds a symptom to what is said, or another in its place, or none.
func told1(said []string, k *knowledge, s int, wrong, silent float64, r *rand.Rand) []string {
	switch {
	case r.Float64() < silent:
		return said
	case r.Float64() < wrong:
		s = r.IntN(len(k.symptoms))
	}
	if id := k.symptoms[s].ID; !slices.Contains(said, id) {
		said = append(said, id)
	}
	return said
}

func (c *modelCar) tells() []string { return c.said }

func (c *modelCar) shows(test int) int {
	if o, done := c.seen[test]; done {
		return o
	}
	h := hypothesis{none, none}
	switch len(c.causes) {
	case 1:
		h.a = c.causes[0]
	case 2:
		h = hypothesis{min(c.causes[0], c.causes[1]), max(c.causes[0], c.causes[1])}
	}
	row := make([]float64, len(c.w.tables[test].sound))
	c.w.tables[test].under(h, row)
	chance := rand.New(rand.NewPCG(c.seed, uint64(test)))
	c.seen[test] = draw(chance, func(o int) float64 { return row[o] }, len(row))
	if chance.Float64() < 1-certain { // a slip, as the judge reckons with
		c.seen[test] = (c.seen[test] + 1 + chance.IntN(len(row)-1)) % len(row)
	}
	return c.seen[test]
}

// draw takes one of n by weight.
func draw(r *rand.Rand, weight func(int) float64, n int) int {
	sum := 0.0
	for i := range n {
		sum += weight(i)
	}
	at := r.Float64() * sum
	for i := range n {
		if at -= weight(i); at < 0 {
			return i
		}
	}
	return n - 1
}

package faults

import (
	"math/rand/v2"
	"os"
	"testing"
)

// casesEach is how many cars of each cause are drawn: a few in an ordinary run,
// 200 with FAULTS_FULL=1.
func casesEach(few int) int {
	if os.Getenv("FAULTS_SOME") != "" {
		return 30
	}
	if os.Getenv("FAULTS_FULL") != "" {
		return 200
	}
	return few
}

func seeded(n uint64) *rand.Rand { return rand.New(rand.NewPCG(20260130, n)) }

func TestHuntsOfEachCause(t *testing.T) {
	worlds := []struct {
		name string
		w    world
	}{{"own model", ownWorld()}, {"perturbed", perturbedWorld(seeded(1))},
		{"by quantities", physicsWorld{known()}}}
	for _, w := range worlds {
		r := seeded(2)
		var eight tally
		for c := range known().causes {
			var one tally
			for range casesEach(3) {
				p := w.w.car([]int{c}, r)
				e := follow(p, []int{c}, byGain, r, 0.97, 8)
				eight.add(e, 0.97)
				one.add(e, 0.97)
			}
			if os.Getenv("FAULTS_SOME") != "" && one.share(one.three) < 90 {
				one.say(t, w.name+" "+known().causes[c].ID)
			}
		}
		eight.say(t, w.name+", at most 8 tests")
	}
}

// All rules know the same and stop at the same share, so their minutes are
// compared at about equal accuracy; the accuracy is printed beside them.
func TestMinutesAgainstOtherRules(t *testing.T) {
	const enough = 0.9
	rules := []struct {
		name   string
		choose rule
	}{{"bits a minute", byGain}, {"(a) fixed order of cost", byCost}, {"(b) random order", byChance},
		{"(c) least cost over probability", byCostOverProbability}}
	for _, w := range []struct {
		name string
		w    world
	}{{"own model", ownWorld()}, {"perturbed", perturbedWorld(seeded(1))}, {"by quantities", physicsWorld{known()}}} {
		for _, rl := range rules {
			r := seeded(3)
			var all tally
			for c := range known().causes {
				for range casesEach(1) {
					all.add(follow(w.w.car([]int{c}, r), []int{c}, rl.choose, r, enough, len(known().tests)), enough)
				}
			}
			all.say(t, w.name+", until 90 in 100: "+rl.name)
		}
	}
}

package faults

import (
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Every cause is reached by a symptom and told apart by a test of its own;
// every test separates something; every symptom has several causes.
func TestNothingIsOrphaned(t *testing.T) {
	k := known()
	symptoms, tests := make([]int, len(k.causes)), make([]int, len(k.causes))
	best := make([]float64, len(k.causes))
	for _, s := range k.symptoms {
		n, sum := 0, 0.0
		for c, share := range s.shares {
			sum += share
			if c < len(k.causes) && share > 0 {
				symptoms[c]++
				n++
			}
		}
		if math.Abs(sum-1) > 1e-12 || n < 4 || s.shares[len(k.causes)] <= 0 {
			t.Errorf("%s: %d causes, shares add up to %g, other %g", s.ID, n, sum, s.shares[len(k.causes)])
		}
	}
	for _, one := range k.tests {
		table, separates := k.table(one), 0
		for c, row := range table.byCause {
			told := row[0] < table.sound[0]-0.1
			if told {
				separates++
				best[c] = max(best[c], table.sound[0]-row[0])
			}
			if told && one.Minutes > 0 {
				tests[c]++
			}
		}
		if separates == 0 || separates == len(k.causes) {
			t.Errorf("%s tells %d of %d causes from the rest", one.ID, separates, len(k.causes))
		}
	}
	for c, one := range k.causes {
		if symptoms[c] == 0 || tests[c] == 0 || best[c] < 0.6 {
			t.Errorf("%s: %d symptoms, %d tests, the best tells %.2f", one.ID, symptoms[c], tests[c], best[c])
		}
		t.Logf("%s  symptoms %2d  tests %2d  best %.2f  base %.2f %%  %s", one.ID, symptoms[c], tests[c], best[c],
			100*k.told.base[c], one.Name)
	}
}

// Every two causes are told apart by some test: a mirror image of another one
// could never be found.
func TestEveryTwoCausesAreToldApart(t *testing.T) {
	k := known()
	var tables [][][]float64
	for _, one := range k.tests {
		if one.Minutes > 0 {
			tables = append(tables, k.table(one).byCause)
		}
	}
	for a := range k.causes {
		for b := range a {
			best := 0.0
			for _, rows := range tables {
				apart := 0.0
				for o := range rows[a] {
					apart += math.Abs(rows[a][o]-rows[b][o]) / 2
				}
				best = max(best, apart)
			}
			if best < 0.5 {
				t.Errorf("%s and %s: the best test tells them apart by %.2f", k.causes[a].ID, k.causes[b].ID, best)
			}
		}
	}
}

// All 52 causes, 32 tests and 32 symptoms of the plan are there.
func TestTheListIsWhole(t *testing.T) {
	k := known()
	for _, list := range []struct {
		prefix  string
		n       int
		nought  string
		present func(string) bool
	}{
		{"IG", 30, "0", func(id string) bool { _, is := k.causeAt[id]; return is }},
		{"FU", 10, "0", func(id string) bool { _, is := k.causeAt[id]; return is }},
		{"ME", 12, "0", func(id string) bool { _, is := k.causeAt[id]; return is }},
		{"S", 32, "0", func(id string) bool { _, is := k.symAt[id]; return is }},
		{"T", 32, "", func(id string) bool { _, is := k.testAt[id]; return is }},
	} {
		for i := 1; i <= list.n; i++ {
			digits := strings.Repeat(list.nought, b2i(i < 10)) + itoa(i)
			if !list.present(list.prefix + digits) {
				t.Errorf("%s%s is missing", list.prefix, digits)
			}
		}
	}
	if len(cautionIDs) < 20 {
		t.Errorf("only %d cautions of the app were found", len(cautionIDs))
	}
	t.Logf("%d causes, %d tests to be asked, %d rows from the file, %d symptoms, %d pairs linked", len(k.causes),
		len(slices.DeleteFunc(slices.Clone(k.tests), func(t test) bool { return t.Minutes == 0 })),
		len(slices.DeleteFunc(slices.Clone(k.tests), func(t test) bool { return t.Minutes > 0 })), len(k.symptoms),
		len(k.links))
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

func itoa(i int) string {
	if i < 10 {
		return string(rune('0' + i))
	}
	return itoa(i/10) + itoa(i%10)
}

// cautionIDs are the app's, read where it keeps them.
var cautionIDs = func() (ids []string) {
	text, _ := os.ReadFile("../../pwa/app/js/safety/cautions.js")
	_, list, _ := strings.Cut(string(text), "const texts = {")
	list, _, _ = strings.Cut(list, "\n};")
	for _, found := range regexp.MustCompile(`(?m)^\t(\w+):`).FindAllStringSubmatch(list, -1) {
		ids = append(ids, found[1])
	}
	return ids
}()

func TestEveryRowIsComplete(t *testing.T) {
	k := known()
	seen := map[string]bool{}
	once := func(id string) {
		if id == "" || seen[id] {
			t.Errorf("%q is there twice", id)
		}
		seen[id] = true
	}
	for _, c := range k.causes {
		once(c.ID)
		family := map[string]string{"IG": "ignition", "FU": "fuel", "ME": "engine"}[c.ID[:2]]
		if c.Name == "" || c.About == "" || c.Mend == "" || c.Basis == "" || c.Family != family {
			t.Errorf("%s is not complete", c.ID)
		}
	}
	for _, s := range k.symptoms {
		once(s.ID)
		if s.Name == "" || len(s.When) == 0 || s.Often < 1 || s.Often > 3 {
			t.Errorf("%s is not complete", s.ID)
		}
	}
	for _, one := range k.tests {
		once(one.ID)
		one.whole(t)
	}
	for _, l := range k.links {
		if l.Times <= 1 || l.Why == "" || len(l.Causes) != 2 {
			t.Errorf("link %v is not complete", l.Causes)
		}
	}
	for _, row := range checkRows {
		at, is := k.testAt[row.test]
		for id := range strings.FieldsSeq(row.fails) {
			if !is || k.tests[at].outcomeAt(id) < 1 {
				t.Errorf("check %s: %s has no outcome %s", row.check, row.test, id)
			}
		}
	}
}

// whole looks at one test: words, outcomes, likelihoods, cautions, figures.
func (one test) whole(t *testing.T) {
	if one.Name == "" || one.Basis == "" || len(one.Outcomes) < 2 {
		t.Errorf("%s is not complete", one.ID)
	}
	asked := one.Minutes > 0
	if asked && (one.How == "" || len(one.Expected) == 0 || !slices.Contains([]string{"off", "cranking", "running",
		"road"},
		one.Engine)) {
		t.Errorf("%s cannot be asked as it stands", one.ID)
	}
	for _, c := range one.Cautions {
		if !slices.Contains(cautionIDs, c) {
			t.Errorf("%s names the caution %s, which there is not", one.ID, c)
		}
	}
	if one.Engine == "running" && !slices.Contains(one.Cautions, "carbonMonoxide") {
		t.Errorf("%s runs the engine without the caution of exhaust gas", one.ID)
	}
	named := map[string]bool{}
	for o, out := range one.Outcomes {
		if out.Says == "" || (o > 0) != (out.Falsely > 0) {
			t.Errorf("%s %s is not complete", one.ID, out.ID)
		}
		for _, list := range out.lists() {
			for id := range strings.FieldsSeq(list) {
				if named[out.ID+id] {
					t.Errorf("%s %s names %s twice", one.ID, out.ID, id)
				}
				named[out.ID+id] = true
			}
		}
	}
	for c, row := range known().table(one).byCause {
		sum := 0.0
		for _, p := range row {
			sum += p
			if p < 0 || p > 1 {
				t.Errorf("%s: likelihood %g of cause %d", one.ID, p, c)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: likelihoods of cause %d add up to %g", one.ID, c, sum)
		}
	}
	if asked {
		for _, car := range []Car{{}, fullCar()} {
			if one.expected(car, figuresOf(car, Facts{})) == "" {
				t.Errorf("%s says nothing of what to expect", one.ID)
			}
		}
	}
}

func num(x float64) *float64 { return &x }
func yes(b bool) *bool       { return &b }

func fullCar() Car {
	return Car{NominalV: num(12), Cylinders: 4, Trigger: "points", Ballasted: yes(true), Capsule: "fitted",
		Carburettors: 1,
		CoilOhm:      num(1.5), BallastOhm: num(1.6), GapMinMm: num(.35), GapMaxMm: num(.4), DwellMinDistDeg: num(57),
		DwellMaxDistDeg: num(63), BaseCrankDeg: num(8), IdleEngineRPM: num(800), FiringOrder: "1-3-4-2"}
}

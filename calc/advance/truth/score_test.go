package truth_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
)

// tally counts hits among cases.
type tally struct{ hits, of int }

func (t tally) percent() float64 {
	if t.of == 0 {
		return math.NaN()
	}
	return 100 * float64(t.hits) / float64(t.of)
}

// score is everything that is counted, by name, and the calibration.
type score struct {
	lines map[string]*tally
	bins  [10]struct{ stated, found, of float64 }
}

func (s *score) count(name string, hit bool) {
	if s.lines == nil {
		s.lines = map[string]*tally{}
	}
	if s.lines[name] == nil {
		s.lines[name] = &tally{}
	}
	s.lines[name].of++
	if hit {
		s.lines[name].hits++
	}
}

// right: the parts with a share of 75 % or more are exactly the true ones,
// direction included. A unit that does not move at any speed read may be
// seized or have a primary far too strong: there both side by side are right,
// as long as neither is sure.
func (tr trial) right(a answer) bool {
	named := a.atLeast(likely)
	if slices.Equal(named, tr.truth) {
		return true
	}
	stands := len(tr.truth) == 1 && (tr.truth[0] == "seized" || tr.truth[0] == "primary-late") && tr.atRest
	for _, e := range named {
		stands = stands && (e == "seized" || e == "primary-late")
	}
	return stands && a.either("seized", "primary-late") >= likely && len(tr.wrong(a, sure)) == 0
}

// wrong lists what is held true with this share or more and is not; sound too.
func (tr trial) wrong(a answer, share float64) (wrong []string) {
	for e, s := range a.elements() {
		if s >= share && !tr.isTrue(e) {
			wrong = append(wrong, e)
		}
	}
	slices.Sort(wrong)
	return wrong
}

func (tr trial) isTrue(element string) bool {
	if element == "sound" {
		return len(tr.truth) == 0
	}
	return slices.Contains(tr.truth, element)
}

// sureOfAll: every true part is sure.
func (tr trial) sureOfAll(a answer) bool {
	held := a.atLeast(sure)
	for _, e := range tr.truth {
		if !slices.Contains(held, e) {
			return false
		}
	}
	return true
}

// group is how evidence is spoken of in the targets.
func (e evidence) group() string {
	if e.bench {
		return "bench or both"
	}
	return "car alone"
}

// inside are the elements that lie inside the distributor.
func inside(element string) bool {
	for _, part := range []string{"primary", "secondary", "stop", "seized", "drag"} {
		if strings.HasPrefix(element, part) {
			return true
		}
	}
	return false
}

// add counts one case under every heading it belongs to.
func (s *score) add(tr trial, a answer) {
	s.count("answered", a.refused == "")
	wrong := tr.wrong(a, sure)
	heading := "sure and wrong"
	if tr.sort == rubbingSort {
		heading += ", rubbing spring"
	}
	s.count(heading, len(wrong) > 0)
	s.count("sure and wrong: sound said of a fault", slices.Contains(wrong, "sound"))
	if len(tr.book.rows) == 2 {
		s.count("two rows, any unit: a part inside more than possible", slices.ContainsFunc(a.atLeast(likely), inside))
	}
	switch tr.sort {
	case soundSort:
		s.addSound(tr, a)
	case singleSort:
		s.addSingle(tr, a)
	case rubbingSort:
		s.count("rubbing spring: right", tr.right(a))
	case doubleSort:
		s.addDouble(tr, a)
	case slipSort:
		s.addSlip(tr, a)
	}
	s.addShares(tr, a)
}

func (s *score) addSound(tr trial, a answer) {
	s.count("sound: sure of a fault", len(a.atLeast(sure)) > 0)
	rows := "four rows and more"
	if len(tr.book.rows) < 4 {
		rows = "fewer rows"
	}
	s.count("sound: likely a fault, "+rows, len(a.atLeast(likely)) > 0)
	if len(tr.book.rows) == 2 {
		s.count("sound: two rows, a part inside more than possible", slices.ContainsFunc(a.atLeast(likely), inside))
	}
	s.count("sound: a reading held for a slip", len(a.slips) > 0)
	s.count("sound: said to be sound, likely or sure", a.elements()["sound"] >= likely)
}

func (s *score) addSingle(tr trial, a answer) {
	group := tr.evidence.group()
	if tr.fewRows() {
		s.count("single, one or two rows: right", tr.right(a))
		s.count("single, one or two rows: right, or nothing named", tr.right(a) || len(a.atLeast(likely)) == 0)
		return
	}
	s.count("single, "+group+": right", tr.right(a))
	if tr.shown > 1 {
		s.count("single, "+group+", a row shows it: right", tr.right(a))
	}
	s.count("single, "+group+": sure and right", tr.right(a) && tr.sureOfAll(a))
	s.count("single by evidence: "+tr.evidence.name, tr.right(a))
	s.count(fmt.Sprintf("single by rows: %d", len(tr.book.rows)), tr.right(a))
	s.count("single by fault: "+tr.truth[0], tr.right(a))
}

func (s *score) addDouble(tr trial, a answer) {
	named := a.atLeast(likely)
	good, bad := 0, 0
	for _, e := range named {
		if tr.isTrue(e) {
			good++
		} else {
			bad++
		}
	}
	group := map[string]string{"car both ways": "car"}[tr.evidence.name]
	if group == "" {
		group = tr.evidence.name
	}
	s.count("double, "+group+": both right", good == 2 && bad == 0)
	s.count("double: one right and none wrong", good >= 1 && bad == 0)
	s.count("double by pair: "+strings.Join(tr.truth, "+"), good == 2 && bad == 0)
}

func (s *score) addSlip(tr trial, a answer) {
	s.count("slip: found and no other blamed", slices.Equal(a.slips, tr.slips))
	s.count("slip: found", slices.Contains(a.slips, tr.slips[0]))
	if len(tr.truth) == 0 {
		s.count("slip in a sound unit: no part named", len(a.atLeast(likely)) == 0)
	} else if !tr.fewRows() {
		s.count("slip beside a single fault: right", tr.right(a))
	}
}

// addShares holds the stated shares against what was found.
func (s *score) addShares(tr trial, a answer) {
	shares := a.elements()
	for _, e := range slices.Sorted(maps.Keys(shares)) {
		share, found := shares[e], tr.isTrue(e)
		if share <= 0.02 {
			continue
		}
		bin := &s.bins[min(9, int(10*share))]
		bin.stated, bin.of = bin.stated+share, bin.of+1
		if found {
			bin.found++
		}
		switch {
		case share >= sure:
			s.count("what is sure is right", found)
		case share >= likely:
			s.count("what is likely is right", found)
		}
	}
}

// print lists everything counted and the calibration table.
func (s *score) print(t *testing.T) {
	for _, name := range slices.Sorted(maps.Keys(s.lines)) {
		l := s.lines[name]
		t.Logf("%6.1f %%  %4d of %4d  %s", l.percent(), l.hits, l.of, name)
	}
	t.Log("stated share against found, ten bins")
	for i, b := range s.bins {
		if b.of > 0 {
			stated, found := 100*b.stated/b.of, 100*b.found/b.of
			t.Logf("%3d to %3d %%: stated %5.1f %%, found %5.1f %% of %4.0f", 10*i, 10*i+10, stated, found, b.of)
		}
	}
}

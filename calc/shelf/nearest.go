package shelf

import (
	"cmp"
	"fmt"
	"slices"

	"pointsmith/calc/advance"
	"pointsmith/calc/advance/infer"
	"pointsmith/calc/refuse"
)

// search is what all units of a shelf are held against.
type search struct {
	in      NearestIn
	book    infer.Book
	reaches [4]*infer.Reach // by the ways a unit was read
	ratio   float64         // drive of the car, engine turns per distributor turn
	top     float64         // last row of the book, engine rpm
	first   float64         // first row of the book, engine rpm
	ways    []way
	widest  []way // see widestOf
	bounds  bounds
	room    *room
}

// judged is one unit that is not refused.
type judged struct {
	unit    *Unit
	run     advance.Run
	ratio   float64 // its drive as it was reckoned with
	cloud   infer.Cloud
	ways    infer.Ways
	asItIs  float64
	attempt attempt
	unknown []question
	known   bool // enough was read to speak of a change
}

// Nearest puts the distributors of a shelf in order: which comes nearest to the
// book, with which smallest change. For each unit
//
//	in book = Σ over governors, share × P(worst row missed + misfit ≤ ¼°)
//
// over the governors its readings leave likely, distributor degrees, in the
// directions it was read; ¼° is half of what a bench ring is read to, the misfit
// what a real unit lies beside any two-spring governor (0.15). A change is
// taken where it brings more than its work costs, 0.02 for each unit of work
// and 0.2 for each part touched (advance.prescribe: 0.02 and 0.1); its amounts put the
// likeliest governor nearest the middle of the rows. First come those more likely
// than not in the book as they are, by that share; then those likely (¾) after a
// change, by share less work; then the doubtful; last those of which too little was
// read to say anything, fewer than four readings. One more unit changes the
// place of others, never their shares; equals stand by id.
//
// What is said of a unit was counted on two simulators, this room's governors and
// others (calc/advance/truth): of those said to lie in the book in 80 to 100 cases
// of 100, as they are, 97 on average, 98 to 99 did; after a change 94, 90 to 95.
// What is said to be even is so in some 65 of 100 of units of the book's own make.
//
// Refused: no unit or more than 2000, two of one id, readings beside a model, a
// spec without rows, and what advance.judge refuses of spec and readings.
// Sources: force balance of advance.Model; limits of work are common practice
// or chosen, as stated beside them in the code.
func Nearest(in NearestIn) (NearestOut, error) {
	s, bad := newSearch(in)
	if bad != nil {
		return NearestOut{}, bad
	}
	var all []judged
	out := NearestOut{Ranked: []Ranked{}, Refused: []Refused{}, Working: []string{}, Sources: sources}
	for i := range in.Units {
		u := &in.Units[i]
		if because := s.ruledOut(u); because != "" {
			out.Refused = append(out.Refused, Refused{u.ID, because})
			continue
		}
		j, bad := s.judge(u)
		if bad != nil {
			return NearestOut{}, bad.Under(fmt.Sprintf("units[%d]", i))
		}
		if because := s.beyondHelp(&j); because != "" {
			out.Refused = append(out.Refused, Refused{u.ID, because})
			continue
		}
		all = append(all, j)
	}
	slices.SortFunc(all, inOrder)
	slices.SortFunc(out.Refused, func(a, b Refused) int { return cmp.Compare(a.ID, b.ID) })
	most := usualMost
	if in.Most != nil {
		most = *in.Most
	}
	for i := range all[:min(most, len(all))] {
		out.Ranked = append(out.Ranked, s.ranked(i+1, &all[i]))
	}
	out.LeftOff = len(all) - len(out.Ranked)
	s.conclude(&out)
	return out, nil
}

func newSearch(in NearestIn) (*search, *refuse.Error) {
	if bad := in.check(); bad != nil {
		return nil, bad
	}
	book, bad := advance.BookOf(in.Spec)
	if bad != nil {
		return nil, bad
	}
	s := &search{in: in, book: book, ratio: 2} // a four-stroke's, unless said (contract)
	switch {
	case in.Wanted.DriveRatio != nil:
		s.ratio = *in.Wanted.DriveRatio
	case in.Spec.DriveRatio != nil:
		s.ratio = *in.Spec.DriveRatio
	}
	if d := in.Spec.DriveRatio; d != nil && *d != s.ratio {
		return nil, refuse.Input("wanted.driveRatio", fmt.Sprintf("is %g, the spec's is %g", s.ratio, *d),
			"the same drive in both", "correct one of the two, or leave one out")
	}
	s.room = newRoom(len(book.Rows))
	for k := range s.reaches {
		s.reaches[k] = book.Reach(infer.Ways{Rising: k&1 != 0, Falling: k&2 != 0})
	}
	s.first = 2 * book.Rows[0].DistRPM // rows are of a shaft at half engine speed
	s.top = 2 * book.Rows[len(book.Rows)-1].DistRPM
	s.ways, s.bounds = waysAllowed(in.Allow, book.Limit)
	s.widest = widestOf(s.ways)
	return s, nil
}

// leastShare: below one in a hundred nobody would take it for a donor (chosen).
const leastShare = 0.01

// judge fits a unit and looks for its change.
func (s *search) judge(u *Unit) (judged, *refuse.Error) {
	j := judged{unit: u, ratio: s.ratio}
	if u.DriveRatio != nil {
		j.ratio = *u.DriveRatio
	}
	switch {
	case u.Model != nil:
		j.run = s.stands(u, j.ratio)
	case len(u.Readings) > 0:
		var bad *refuse.Error
		if j.run, bad = advance.RunOf(u.Readings, j.ratio); bad != nil {
			return j, bad
		}
	}
	speeds := map[float64]bool{}
	for _, r := range j.run.Readings {
		j.ways.Rising, j.ways.Falling = j.ways.Rising || !r.Falling, j.ways.Falling || r.Falling
		speeds[r.DistRPM] = true
	}
	j.known = len(speeds) >= advance.LeastReadings
	j.cloud = infer.Near(j.run.Readings, j.run.Statics)
	if j.known {
		j.asItIs, j.attempt = s.best(&j.cloud, s.reach(j.ways))
	} else {
		j.asItIs = nothing.share(&j.cloud, s.reach(j.ways), allDraws)
		j.attempt.inBook = j.asItIs
	}
	j.unknown = s.questions(&j)
	return j, nil
}

func (s *search) reach(w infer.Ways) *infer.Reach {
	k := 0
	if w.Rising {
		k |= 1
	}
	if w.Falling {
		k |= 2
	}
	return s.reaches[k]
}

// modelPoints is how many readings a model stands for (chosen: as many as a
// common run on the bench has).
const modelPoints = 12

// stands puts readings in a model's place: its curve at even speeds from half its
// start to the fastest that was read.
func (s *search) stands(u *Unit, ratio float64) advance.Run {
	to := advance.HalfSpeed(ratio)
	g := u.Model.Governor().OnShaft(1 / to)
	top, e := 1.1*speedAt(g, g.Limit), 0.5 // a tenth past its stop; ±0.5 on a bench: common practice
	if u.ModelTopDistRPM != nil {
		top = *u.ModelTopDistRPM / to
	}
	if u.ModelErrorDistDeg != nil {
		e = *u.ModelErrorDistDeg
	}
	from := min(u.Model.StartDistRPM/to/2, top/2)
	run := advance.Run{TopRPM: 2 * top, PipeSaid: true}
	for k := range modelPoints {
		rpm := from + (top-from)*float64(k)/(modelPoints-1)
		run.Readings = append(run.Readings, infer.Reading{DistRPM: rpm, Deg: g.At(rpm), Error: e / to})
	}
	return run
}

// order of standing.
var tiers = map[string]int{"as-it-is": 0, "changed": 1, "doubtful": 2, "unknown": 3}

// standing says in one word how far a unit is known to serve.
func (j *judged) standing() string {
	switch {
	case !j.known:
		return "unknown"
	case j.asItIs >= leaveAlone:
		return "as-it-is"
	case j.attempt.inBook >= advance.LikelyShare:
		return "changed"
	}
	return "doubtful"
}

func inOrder(a, b judged) int {
	return cmp.Or(cmp.Compare(tiers[a.standing()], tiers[b.standing()]),
		cmp.Compare(b.attempt.value(), a.attempt.value()), cmp.Compare(a.unit.ID, b.unit.ID))
}

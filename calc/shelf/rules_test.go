package shelf

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pointsmith/calc/advance"
	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
)

func whole(n int) *int          { return &n }
func number(x float64) *float64 { return &x }

// smallShelf has units of every sort: in the book, to be changed, far off, hardly
// read, not read, with a model.
func smallShelf(seed uint64) NearestIn {
	rng := random(seed, 0)
	in, _ := madeShelf(rng, 24)
	in.Most = whole(2000)
	in.Units[3].Readings[0].Points = in.Units[3].Readings[0].Points[:2]
	in.Units[4].Readings = nil
	in.Units[5].Readings[0].Points = in.Units[5].Readings[0].Points[:6]
	m := advance.ModelOf(drawn(rng))
	in.Units[6].Readings, in.Units[6].Model = nil, &m
	return in
}

func asked(t *testing.T, in NearestIn) NearestOut {
	t.Helper()
	out, err := Nearest(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func text(t *testing.T, x any) string {
	t.Helper()
	out, err := json.Marshal(x)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

func TestOrderOfUnitsChangesNothing(t *testing.T) {
	for seed := range uint64(5) {
		in := smallShelf(seed)
		want := text(t, asked(t, in))
		rng := rand.New(rand.NewPCG(5, seed))
		rng.Shuffle(len(in.Units), func(a, b int) { in.Units[a], in.Units[b] = in.Units[b], in.Units[a] })
		if got := text(t, asked(t, in)); got != want {
			t.Errorf("another order of the units gives another answer:\n%s\n%s", want, got)
		}
	}
}

func TestOneMoreUnitChangesNoOther(t *testing.T) {
	for seed := range uint64(5) {
		in := smallShelf(seed)
		before := map[string]string{}
		for _, r := range asked(t, in).Ranked {
			r.Rank = 0
			before[r.ID] = text(t, r)
		}
		rng := random(6, seed)
		in.Units = append(in.Units, Unit{ID: "another", Readings: readBench(rng, rising(drawn(rng)), benchSpeeds...)})
		for _, r := range asked(t, in).Ranked {
			r.Rank = 0
			if was, there := before[r.ID]; there && was != text(t, r) {
				t.Errorf("%s changed with another unit on the shelf:\n%s\n%s", r.ID, was, text(t, r))
			}
		}
	}
}

func TestHardConditions(t *testing.T) {
	in, planted := madeShelf(random(9, 1), 3)
	in.Wanted = Wanted{Rotation: "clockwise", Cylinders: whole(4), DriveRatio: number(2), Capsule: "advance"}
	fits := Unit{Rotation: "clockwise", Cylinders: whole(4), DriveRatio: number(2), Capsule: "advance"}
	for i := range in.Units {
		u := &in.Units[i]
		u.Rotation, u.Cylinders, u.DriveRatio, u.Capsule = fits.Rotation, fits.Cylinders, fits.DriveRatio, fits.Capsule
	}
	i := slices.IndexFunc(in.Units, func(u Unit) bool { return u.ID == planted })
	for _, c := range []struct {
		what, word string
		wrong      func(u *Unit)
		unknown    func(u *Unit)
	}{
		{"rotation", "anticlockwise", func(u *Unit) { u.Rotation = "anticlockwise" },
			func(u *Unit) { u.Rotation = "" }},
		{"cylinders", "6 cylinders", func(u *Unit) { u.Cylinders = whole(6) }, func(u *Unit) { u.Cylinders = nil }},
		{"drive", "1 engine turns", func(u *Unit) { u.DriveRatio = number(1) }, func(u *Unit) { u.DriveRatio = nil }},
		{"capsule", "retards", func(u *Unit) { u.Capsule = "retard" }, func(u *Unit) { u.Capsule = "unknown" }},
	} {
		good := in.Units[i]
		c.wrong(&in.Units[i])
		out := asked(t, in)
		k := slices.IndexFunc(out.Refused, func(r Refused) bool { return r.ID == planted })
		if k < 0 || !strings.Contains(out.Refused[k].Because, c.word) {
			t.Errorf("wrong %s: not refused by it: %+v", c.what, out.Refused)
		}
		in.Units[i] = good
		c.unknown(&in.Units[i])
		out = asked(t, in)
		k = slices.IndexFunc(out.Ranked, func(r Ranked) bool { return r.ID == planted })
		if k < 0 || !slices.Contains(out.Ranked[k].Unknown, c.what) || len(out.Ranked[k].FindOutFirst) == 0 {
			t.Errorf("unknown %s: not to be found out first: %+v", c.what, out.Ranked)
		}
		in.Units[i] = good
	}
	if out := asked(t, in); out.Ranked[0].ID != planted || len(out.Ranked[0].Unknown) != 0 {
		t.Errorf("what fits and is known: %+v", out.Ranked[0])
	}
}

// A unit of which next to nothing was read never comes before one well read, be
// it as near as it may.
func TestHardlyReadComesLast(t *testing.T) {
	for seed := range uint64(20) {
		in, planted := madeShelf(random(10, seed), 12)
		i := slices.IndexFunc(in.Units, func(u Unit) bool { return u.ID == planted })
		in.Units[i].Readings[0].Points = in.Units[i].Readings[0].Points[5:8]
		in.Most = whole(2000)
		out := asked(t, in)
		last := out.Ranked[len(out.Ranked)-1]
		if last.ID != planted || last.Standing != "unknown" || last.Change != nil {
			t.Errorf("%d: three readings in the book come before well read ones: %+v", seed, last)
		}
	}
}

// A run that ends low says so, and its share is less than that of the whole run.
func TestWhatWasNotReadIsAsked(t *testing.T) {
	for seed := range uint64(20) {
		in, planted := madeShelf(random(11, seed), 1)
		sure := asked(t, in)
		in.Units[0].Readings[0].Points = in.Units[0].Readings[0].Points[:9] // to 1250
		out := asked(t, in)
		if len(out.Ranked) == 0 {
			continue
		}
		words := "no reading above 1250 distributor rpm"
		if r := out.Ranked[0]; r.ID != planted || !slices.Contains(r.Unknown, "top") ||
			!strings.Contains(strings.Join(r.FindOutFirst, " "), words) {
			t.Errorf("%d: the top is not asked for: %+v", seed, r)
		}
		if got, most := out.Ranked[0].AsItIsShare, sure.Ranked[0].AsItIsShare; got > most+0.05 {
			t.Errorf("%d: the half run is surer (%.2f) than the whole (%.2f)", seed, got, most)
		}
	}
}

// A unit at crank speed reads as one at half speed does, its figures halved.
func TestDriveIsReckonedWith(t *testing.T) {
	in, _ := madeShelf(random(12, 1), 6)
	want := asked(t, in)
	double := in
	double.Spec.DriveRatio = number(1)
	double.Spec.Points, double.Units = nil, nil
	for _, p := range in.Spec.Points {
		double.Spec.Points = append(double.Spec.Points, advance.SpecPoint{RPM: 2 * p.RPM,
			MinDeg: number(2 * *p.MinDeg), MaxDeg: number(2 * *p.MaxDeg)})
	}
	for _, u := range in.Units {
		s := u.Readings[0]
		s.Points = slices.Clone(s.Points)
		for i := range s.Points {
			s.Points[i].RPM, s.Points[i].Deg = 2*s.Points[i].RPM, 2*s.Points[i].Deg
		}
		double.Units = append(double.Units, Unit{ID: u.ID, Readings: advance.Sets{s}, DriveRatio: number(1)})
	}
	got := asked(t, double)
	for i, r := range want.Ranked {
		if g := got.Ranked[i]; g.ID != r.ID || g.InBookShare != r.InBookShare {
			t.Errorf("at crank speed %+v, at half %+v", g, r)
		}
		if r.Change != nil && r.Change.LimitDistDeg != nil {
			is, want := *got.Ranked[i].Change.LimitDistDeg, 2**r.Change.LimitDistDeg
			if is < 0.995*want || is > 1.005*want {
				t.Errorf("the stop at crank speed goes to %.2f, twice that at half is %.2f", is, want)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	good, _ := madeShelf(random(13, 1), 2)
	many := make([]Unit, 2001)
	for i := range many {
		many[i] = Unit{ID: fmt.Sprint(i)}
	}
	m := advance.ModelOf(drawn(random(13, 2)))
	for _, c := range []struct {
		field string
		spoil func(in *NearestIn)
	}{
		{"units", func(in *NearestIn) { in.Units = nil }},
		{"units", func(in *NearestIn) { in.Units = many }},
		{"spec.points", func(in *NearestIn) { in.Spec.Points = nil }},
		{"units[1].rotation", func(in *NearestIn) { in.Units[1].Rotation = "widdershins" }},
		{"wanted.rotation", func(in *NearestIn) { in.Wanted.Rotation = "left" }},
		{"units[1].id", func(in *NearestIn) { in.Units[1].ID = in.Units[0].ID }},
		{"units[0].model", func(in *NearestIn) { in.Units[0].Model = &m }},
		{"units[0].readings[0].points", func(in *NearestIn) { in.Units[0].Readings = advance.Sets{{Place: "bench"}} }},
		{"spec.points[1].rpm", func(in *NearestIn) { in.Spec.Points[1].RPM = in.Spec.Points[0].RPM }},
		{"wanted.driveRatio", func(in *NearestIn) { in.Wanted.DriveRatio, in.Spec.DriveRatio = number(1), number(2) }},
	} {
		in := good
		in.Units, in.Spec.Points = slices.Clone(good.Units), slices.Clone(good.Spec.Points)
		c.spoil(&in)
		_, err := Nearest(in)
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field != c.field || bad.Limit == "" || bad.Do == "" {
			t.Errorf("want a refusal of %s, got %v", c.field, err)
		}
	}
	const spec = `{"spec": {"angleUnit": "crank", "speedUnit": "engine", "base": "included", "points": [ROWS]}, "units": [`
	const rows = `{"rpm": 900, "maxDeg": 9}`
	for field, in := range map[string]string{
		"units":             strings.Replace(spec, "ROWS", rows, 1) + `]}`,
		"units[0].rotation": strings.Replace(spec, "ROWS", rows, 1) + `{"id": "a", "rotation": "left"}]}`,
		"spec.points":       strings.Replace(spec, "ROWS", "", 1) + `{"id": "a"}]}`,
	} {
		_, err := schema.Decode[NearestIn]([]byte(in))
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field != field {
			t.Errorf("want a refusal of %s, got %v", field, err)
		}
	}
}

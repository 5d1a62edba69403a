package figures

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"pointsmith/calc/refuse"
)

// randomTable is a table within the limits of Write, its notes as awkward as
// can be.
func randomTable(rng *rand.Rand) WriteIn {
	in := WriteIn{What: oneOf(rng, spec, readings), AngleUnit: oneOf(rng, crank, distributor),
		SpeedUnit: oneOf(rng, engine, distributor), Base: oneOf(rng, included, excluded)}
	noted := rng.IntN(2) == 0
	figure := func(low, high float64) *float64 {
		x := low + (high-low)*rng.Float64()
		switch rng.IntN(3) {
		case 0:
			x = float64(int(x))
		case 1:
			x = float64(int(x*8)) / 8
		}
		return &x
	}
	used := map[float64]bool{}
	for range 1 + rng.IntN(20) {
		row := OutRow{RPM: *figure(50, 12000)}
		if row.RPM < 50 || used[row.RPM] {
			continue
		}
		used[row.RPM] = true
		if noted {
			for range rng.IntN(4) {
				row.Note += oneOf(rng, "=1+2", "-", "@a", ";500;7;", ",900,4", "\r\n", "\n", `"`, "\t", "|", " ", "12",
					"# no comment",
					"\ufeff", "°", "rpm", "crank deg", "\ufffd")
			}
		}
		if in.What == readings {
			row.Deg, row.Direction = figure(-60, 120), oneOf(rng, "", rising, falling)
			row.Place, row.Vacuum = oneOf(rng, "", "bench", "car"), oneOf(rng, "", "off", "connected")
			in.Rows = append(in.Rows, row)
			continue
		}
		low := figure(-40, 90)
		high := figure(*low, 90)
		if *high < *low {
			high = low
		}
		switch rng.IntN(6) {
		case 0:
			row.MinDeg = low
		case 1:
			row.MaxDeg = high
		default:
			row.MinDeg, row.MaxDeg = low, high
		}
		in.Rows = append(in.Rows, row)
	}
	if len(in.Rows) == 0 {
		return randomTable(rng)
	}
	return in
}

// What is written is read back to the last bit, without a question, without
// anything left out.
func TestWhatIsWrittenIsReadBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for range drawn(2000) {
		in := randomTable(rng)
		sent, err := Write(in)
		if err != nil {
			t.Fatal(err)
		}
		backAgain(t, in, sent.Text)
	}
}

func backAgain(t *testing.T, in WriteIn, text string) {
	t.Helper()
	out := read(t, text, Hints{})
	if len(out.Asks) > 0 || len(out.LeftOut) > 0 {
		t.Fatalf("%q\nasks %+v, leaves out %v", text, out.Asks, out.LeftOut)
	}
	back := WriteIn{What: out.What, AngleUnit: out.AngleUnit, SpeedUnit: out.SpeedUnit, Base: out.Base}
	for _, r := range out.Rows {
		back.Rows = append(back.Rows, OutRow{RPM: r.RPM, MinDeg: r.MinDeg, MaxDeg: r.MaxDeg, Deg: r.Deg,
			Direction: r.Direction, Place: r.Place, Vacuum: r.Vacuum, Note: r.Note})
	}
	if !reflect.DeepEqual(in, back) {
		t.Fatalf("%q\nwas  %+v\nback %+v", text, in, back)
	}
}

func TestNotesLikeFormulasAreKeptAndNamed(t *testing.T) {
	low := 4.0
	for _, note := range []string{"=SUM(A1)", "+1", "-1 tooth", "@x", "\tx", "plain", "a=b"} {
		out, err := Write(WriteIn{What: spec, AngleUnit: crank, SpeedUnit: engine, Base: included,
			Rows: []OutRow{{RPM: 800, MinDeg: &low, Note: note}}})
		if err != nil || !strings.HasSuffix(out.Text, `,"`+note+"\"\r\n") {
			t.Errorf("%q: %q, %v", note, out.Text, err)
		}
		if named, is := len(out.Notes) == 1, strings.ContainsAny(note[:1], "=+-@\t"); named != is {
			t.Errorf("%q: notes %v", note, out.Notes)
		}
	}
}

func TestWriteRefuses(t *testing.T) {
	a, b := 4.0, 6.0
	for field, rows := range map[string][]OutRow{
		"rows[0]":        {{RPM: 800}},
		"rows[1].rpm":    {{RPM: 800, MinDeg: &a}, {RPM: 800, MinDeg: &b}},
		"rows[0].minDeg": {{RPM: 800, MinDeg: &b, MaxDeg: &a}},
		"rows[0].note":   {{RPM: 800, MinDeg: &a, Note: "a\x00"}},
		"rows":           make([]OutRow, 65),
	} {
		_, err := Write(WriteIn{What: spec, AngleUnit: crank, SpeedUnit: engine, Base: included, Rows: rows})
		if bad := new(refuse.Error); !errors.As(err, &bad) || bad.Field != field || bad.Do == "" || bad.Limit == "" {
			t.Errorf("%s: %v", field, err)
		}
	}
	_, err := Write(WriteIn{What: readings, Rows: []OutRow{{RPM: 800, MinDeg: &a}}})
	if err == nil || !strings.Contains(fmt.Sprint(err), "deg") {
		t.Errorf("a reading with a band: %v", err)
	}
}

package work

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pointsmith/calc/schema"
)

// day numbers of one job on the invented four-cylinder; later events lie
// later.
func on(d string, e Event) Event { e.At = "2024-05-" + d; return e }

func passed(d, step string) Event { return on(d, Event{Step: step, Verdict: "pass"}) }

// wholeJob is every step done, in order.
func wholeJob() []Event {
	var out []Event
	for _, l := range chain {
		out = append(out, passed("10", l.id))
	}
	return out
}

func order(t *testing.T, in OrderIn) OrderOut {
	t.Helper()
	out, err := Order(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func states(out OrderOut) string {
	var list []string
	for _, s := range out.Steps {
		list = append(list, s.ID+" "+s.State)
	}
	return strings.Join(list, ", ")
}

func because(out OrderOut, id string) string {
	for _, s := range out.Steps {
		if s.ID == id {
			return s.Because
		}
	}
	return ""
}

var car = Car{Trigger: "points", Capsule: "fitted"}

func TestFromNothingToDone(t *testing.T) {
	out := order(t, OrderIn{Car: car})
	if got := states(out); got != "fit due, wear due, feed due, points due, spark due, "+
		"static blocked, base blocked, curve blocked, vacuum due, "+
		"idle blocked, mixture blocked" {
		t.Error(got)
	}
	done := []Event{}
	for _, want := range []string{"fit", "wear", "points", "static", "base", "curve", "vacuum", "idle", "mixture",
		"feed", "spark"} { // these two stand beside the chain
		out := order(t, OrderIn{Car: car, Visits: done})
		if out.Next.Step != want {
			t.Fatalf("after %d steps next is %q, want %q (%s)", len(done), out.Next.Step, want, states(out))
		}
		done = append(done, passed("10", want))
	}
	if out := order(t, OrderIn{Car: car, Visits: done}); out.Next.Step != "" || !out.MayFinish || !out.MayStart {
		t.Errorf("at the end: %+v", out.Next)
	}
}

func TestEachChangeUndoesWhatItTouches(t *testing.T) {
	for id, want := range map[string]string{
		"dwell-set":         "static base idle mixture",
		"distributor-moved": "static base idle mixture",
		"points-fitted":     "points static base idle mixture",
		"curve-changed":     "base curve idle mixture",
		"capsule-changed":   "vacuum idle mixture",
		"idle-set":          "mixture",
		"mark-moved":        "static base",
	} {
		out := order(t, OrderIn{Car: car, Visits: append(wholeJob(), on("12", Event{Changed: id, What: "as noted"}))})
		var again []string
		for _, s := range out.Steps {
			if s.State == "again" {
				again = append(again, s.ID)
				if !strings.Contains(strings.ToLower(s.Because), changeOf(id).said) ||
					!strings.Contains(s.Because, "12 May 2024 (as noted)") {
					t.Errorf("%s: %s does not say why: %s", id, s.ID, s.Because)
				}
			}
		}
		if strings.Join(again, " ") != want {
			t.Errorf("%s: again %v, want %s", id, again, want)
		}
	}
}

// TestDwellAfterTiming: dwell set and judged good in one event leaves points
// done and timing to be done again.
func TestDwellAfterTiming(t *testing.T) {
	visits := append(wholeJob(),
		on("12", Event{Step: "points", Verdict: "pass", Changed: "dwell-set", What: "59 to 61"}))
	out := order(t, OrderIn{Car: car, Visits: visits})
	if out.Next.Step != "static" || !strings.Contains(out.Next.Say,
		"change of gap or dwell on 12 May 2024 (59 to 61)") || !strings.Contains(states(out), "points done") {
		t.Errorf("%+v; %s", out.Next, states(out))
	}
	for _, step := range []string{"static", "base", "idle", "mixture"} {
		visits = append(visits, passed("13", step))
	}
	if out := order(t, OrderIn{Car: car, Visits: visits}); out.Next.Step != "" {
		t.Errorf("all done again, yet %+v", out.Next)
	}
}

func TestFailedUnknownAndNotThere(t *testing.T) {
	out := order(t, OrderIn{Car: car,
		Visits: []Event{on("10", Event{Step: "fit", Verdict: "fail", What: "compressions 158 and 110"})}})
	if out.Next.Step != "fit" || !strings.Contains(states(out), "fit again, wear blocked, feed due, points blocked") ||
		!strings.Contains(because(out, "points"), "110") {
		t.Errorf("%s; %s", states(out), because(out, "points"))
	}
	out = order(t, OrderIn{Car: Car{}, Visits: []Event{on("10", Event{Step: "wear", Verdict: "unknown"})}})
	if !strings.Contains(states(out), "wear unknown") || !strings.Contains(states(out), "vacuum unknown") {
		t.Error(states(out))
	}
	out = order(t, OrderIn{Car: Car{Trigger: "electronic", Capsule: "none"}})
	if !strings.Contains(states(out), "points done, spark done, static due") ||
		!strings.Contains(states(out), "vacuum done") {
		t.Error(states(out))
	}
}

// TestTheFeedWaitsUntilItFails: volts and spark are looked at beside the chain;
// one that has failed comes first of what is left.
func TestTheFeedWaitsUntilItFails(t *testing.T) {
	visits := []Event{passed("10", "fit"), passed("10", "wear")}
	for verdict, want := range map[string]string{"": "points", "pass": "points", "watch": "points", "fail": "feed"} {
		all := visits
		if verdict != "" {
			all = append(all, on("10", Event{Step: "feed", Verdict: verdict, What: "0.6 V lost in the switch"}))
		}
		if out := order(t, OrderIn{Car: car, Visits: all}); out.Next.Step != want {
			t.Errorf("volts %q: next is %q, want %q", verdict, out.Next.Step, want)
		}
	}
}

// TestAStepBegunIsNotDone: one good check of five leaves the step due, with
// what was looked at; a bad one of five fails it all the same.
func TestAStepBegunIsNotDone(t *testing.T) {
	begun := on("10", Event{Step: "fit", Verdict: "pass", Partly: true, What: "1 of 5 checks looked at"})
	out := order(t, OrderIn{Car: car, Visits: []Event{begun}})
	if out.Next.Step != "fit" || !strings.Contains(states(out), "fit due, wear due") ||
		!strings.Contains(because(out, "fit"), "Begun on 10 May 2024 (1 of 5 checks looked at)") {
		t.Errorf("%+v; %s; %s", out.Next, states(out), because(out, "fit"))
	}
	begun.Verdict = "fail"
	out = order(t, OrderIn{Car: car, Visits: []Event{begun}})
	if !strings.Contains(states(out), "fit again, wear blocked") ||
		!strings.Contains(because(out, "fit"), "It failed on 10 May 2024") {
		t.Errorf("one of five is bad: %s; %s", states(out), because(out, "fit"))
	}
	begun.Step, begun.Verdict = "points", "pass"
	if out = order(t, OrderIn{Car: car, Visits: []Event{begun}}); !strings.Contains(states(out),
		"points due, spark due, static blocked") {
		t.Errorf("points in part let timing go on: %s", states(out))
	}
}

func TestNewPointsPlanARecheck(t *testing.T) {
	at := func(miles float64) *float64 { return &miles }
	fitted := on("12", Event{Step: "points", Verdict: "pass", Changed: "points-fitted", OdometerMiles: at(61000)})
	visits := append(wholeJob(), fitted)
	for now, want := range map[float64]string{61050: "planned", 61100: "due", 61400: "due", 61501: "overdue"} {
		out := order(t, OrderIn{Car: car, Visits: visits, NowOdometerMiles: &now})
		if len(out.Planned) != 1 || out.Planned[0].State != want || *out.Planned[0].FromMiles != 61100 ||
			*out.Planned[0].ToMiles != 61500 {
			t.Errorf("at %v: %+v", now, out.Planned)
		}
		if again := strings.Contains(states(out), "points again"); again != (want != "planned") {
			t.Errorf("at %v: %s", now, states(out))
		}
	}
	if out := order(t, OrderIn{Car: car, Visits: visits}); len(out.Planned) != 1 || out.Planned[0].State != "unknown" {
		t.Errorf("distance not known: %+v", out.Planned)
	}
	early := on("13", Event{Step: "points", Verdict: "pass", OdometerMiles: at(61020)})
	if out := order(t, OrderIn{Car: car, Visits: append(visits, early)}); len(out.Planned) != 1 {
		t.Error("a check after 20 miles counts")
	}
	checked := on("20", Event{Step: "points", Verdict: "pass", OdometerMiles: at(61180)})
	if out := order(t, OrderIn{Car: car, Visits: append(visits, checked),
		NowOdometerMiles: at(61600)}); len(out.Planned) != 0 || !strings.Contains(states(out), "points done") {
		t.Errorf("checked after 180 miles: %+v", out.Planned)
	}
}

func TestRestoreList(t *testing.T) {
	visits := append(wholeJob(),
		Event{At: "2024-05-12T09:00:00Z", Undone: []string{"vacuum-pipe", "clamp-loose"}},
		Event{At: "2024-05-12T09:20:00Z", Restored: []string{"clamp-loose"}},
	)
	out := order(t, OrderIn{Car: car, Visits: visits, Now: "2024-05-12T10:39:00+01:00"})
	if len(out.RestoreList) != 1 || *out.RestoreList[0].Minutes != 39 || out.RestoreList[0].Overdue || out.MayFinish ||
		!out.MayStart || out.Next.Restore != "vacuum-pipe" {
		t.Errorf("%+v, next %+v", out.RestoreList, out.Next)
	}
	out = order(t, OrderIn{Car: car, Visits: visits, Now: "2024-05-12T09:40:00Z"})
	if r := out.RestoreList[0]; !r.Overdue || !strings.Contains(r.Say, "for 40 minutes") {
		t.Errorf("after 40 minutes: %+v", r)
	}
	stop := append(visits, Event{At: "2024-05-12T09:30:00Z", Undone: []string{"piston-stop", "plugs-out"}})
	out = order(t, OrderIn{Car: car, Visits: stop})
	if out.MayStart || len(out.MayNotStartBecause) != 2 || !strings.Contains(out.MayNotStartBecause[0], "piston stop") {
		t.Errorf("stop in the hole: %v %v", out.MayStart, out.MayNotStartBecause)
	}
}

// TestBatteryOffBlocksStartAndIgnition: without the battery neither starter
// nor ignition has current.
func TestBatteryOffBlocksStartAndIgnition(t *testing.T) {
	out := order(t, OrderIn{Car: car,
		Visits: []Event{{At: "2024-05-12T09:00:00Z", Undone: []string{"battery-off", "vacuum-pipe"}}}})
	if out.MayStart || len(out.MayNotStartBecause) != 1 ||
		!strings.Contains(out.MayNotStartBecause[0], "battery disconnected: the starter has no current") {
		t.Errorf("battery off: %v %v", out.MayStart, out.MayNotStartBecause)
	}
	if r := out.RestoreList; !r[0].BlocksIgnition || r[1].BlocksIgnition {
		t.Errorf("%+v", r)
	}
}

// TestTheKingLeadAndTheCoilFeed: with the coil lead on earth the ignition may
// be on but the engine is not started; without its feed the coil does neither.
func TestTheKingLeadAndTheCoilFeed(t *testing.T) {
	for id, blocksIgnition := range map[string]bool{"king-lead": false, "coil-feed": true} {
		out := order(t, OrderIn{Car: car, Visits: []Event{{At: "2024-05-12T09:00:00Z", Undone: []string{id}}}})
		if out.MayStart || out.RestoreList[0].BlocksIgnition != blocksIgnition || out.MayFinish {
			t.Errorf("%s: may start %v, %+v", id, out.MayStart, out.RestoreList)
		}
	}
}

func TestDatesInOrder(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want float64
	}{
		{"2024-02-28", "2024-03-01", 2 * 1440}, {"2023-02-28", "2023-03-01", 1440}, {"1999-12-31", "2000-01-01", 1440},
		{"2000-02-28", "2000-03-01", 2 * 1440},
		{"1900-02-28", "1900-03-01", 1440}, {"2024-01-01", "2025-01-01", 366 * 1440},
		{"2024-05-12T09:00:00Z", "2024-05-12T09:00:30.5Z", 0.5},
		{"2024-05-12T01:00:00+02:00", "2024-05-11T23:30:00Z", 30},
	} {
		a, badA := minutesOf("", c.a)
		b, badB := minutesOf("", c.b)
		if badA != nil || badB != nil || b-a != c.want {
			t.Errorf("%s to %s: %v minutes, want %v", c.a, c.b, b-a, c.want)
		}
	}
	for _, text := range []string{"", "yesterday", "2024-13-01", "2024-05-12T25:00:00Z", "2024-5-1",
		"2024-05-12T09:00:00"} {
		if _, err := Order(OrderIn{Visits: []Event{{At: text}}}); err == nil {
			t.Errorf("%q was taken for a date", text)
		}
	}
}

// TestTheDataHoldsTogether: every id in the data is a step, every list of
// choices in the input names just the ids of the data, and a step only needs
// those before it.
func TestTheDataHoldsTogether(t *testing.T) {
	var steps, changed, undone []string
	place := map[string]int{}
	for i, l := range chain {
		place[l.id] = i
		steps = append(steps, l.id)
		for _, need := range append(append([]string{}, l.needs...), l.stops...) {
			if p, known := place[need]; !known || p >= i {
				t.Errorf("%s needs %s, which is not before it", l.id, need)
			}
		}
	}
	for _, c := range changes {
		changed = append(changed, c.id)
		for _, id := range c.again {
			if _, known := place[id]; !known {
				t.Errorf("%s undoes %s, which is no step", c.id, id)
			}
		}
	}
	for _, r := range temporaries {
		undone = append(undone, r.id)
	}
	for _, f := range schema.Of[Event]().Fields {
		enum := f.Enum
		if f.Items != nil {
			enum = f.Items.Enum
		}
		want := map[string][]string{"step": append([]string{""}, steps...), "changed": append([]string{""}, changed...),
			"undone": undone, "restored": undone}[f.Name]
		if want != nil && !reflect.DeepEqual(enum, want) {
			t.Errorf("%s offers %v, the data has %v", f.Name, enum, want)
		}
	}
}

// TestHoweverTheWorkGoes: any run of events leaves a chain in which a step is
// done only if it was judged good and no change that touches it came after.
func TestHoweverTheWorkGoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var visits []Event
		for range rapid.IntRange(0, 30).Draw(t, "n") {
			e := Event{At: "2024-05-10"}
			if rapid.Bool().Draw(t, "judged") {
				e.Step, e.Verdict = rapid.SampledFrom(chain).Draw(t, "step").id,
					rapid.SampledFrom([]string{"pass", "watch", "fail", "unknown"}).Draw(t, "verdict")
			} else {
				e.Changed = rapid.SampledFrom(changes).Draw(t, "change").id
			}
			visits = append(visits, e)
		}
		out, err := Order(OrderIn{Car: car, Visits: visits})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range out.Steps {
			isGood := false
			for _, e := range visits {
				if c := changeOf(e.Changed); c != nil && strings.Contains(" "+strings.Join(c.again, " ")+" ",
					" "+s.ID+" ") {
					isGood = false
				}
				if e.Step == s.ID {
					isGood = e.Verdict == "pass" || e.Verdict == "watch"
				}
			}
			if (s.State == "done") != isGood {
				t.Fatalf("%s is %s, good is %v: %+v", s.ID, s.State, isGood, visits)
			}
		}
		if next := out.Next.Step; next == "" && strings.Contains(states(out), " due") {
			t.Fatalf("something is due, nothing is next: %s", states(out))
		}
	})
}

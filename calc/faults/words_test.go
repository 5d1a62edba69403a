package faults

import (
	"errors"
	"testing"

	"pointsmith/calc/refuse"
)

// The list leaves out what the car has not, and names what rank takes.
func TestTheListIsWhatRankTakes(t *testing.T) {
	all, err := List(ListIn{})
	electronic, bad := List(ListIn{Car: Car{Trigger: "electronic"}})
	if err != nil || bad != nil || len(electronic.Causes) >= len(all.Causes) ||
		len(electronic.Tests) >= len(all.Tests) {
		t.Fatalf("%d causes, electronic %d; %v %v", len(all.Causes), len(electronic.Causes), err, bad)
	}
	in := In{}
	for _, s := range all.Symptoms {
		in.Symptoms = append(in.Symptoms, s.ID)
	}
	for _, c := range all.Causes {
		in.LastChanged = append(in.LastChanged, c.ID)
	}
	for _, one := range all.Tests {
		in.Observations = append(in.Observations, Observation{ID: one.ID, Seen: one.Outcomes[len(one.Outcomes)-1].ID})
	}
	ranked(t, in)
	if _, err := List(ListIn{Car: Car{NominalV: num(9)}}); err == nil {
		t.Error("9 V are taken")
	}
}

// The words of what to expect have this car's figures in them.
func TestExpectedIsOfThisCar(t *testing.T) {
	six := Car{NominalV: num(6), Cylinders: 6, Ballasted: yes(false), CoilOhm: num(1.3), IdleEngineRPM: num(600)}
	for _, c := range []struct {
		car  Car
		test string
		want string
	}{
		{six, "T2", "At least 5.7 V: battery 6.3 V less 0.6 V at most, with 4.85 A flowing through the coil's 1.3 Ω."},
		{six, "T30", "6.9 to 7.4 V."},
		{six, "T1", "A flash for every spark, steady on every lead: about 1800 a minute on the coil lead at 600 engine rpm, 300 on each plug lead."},
		{fullCar(), "T2", "About 6.1 V: battery 12.6 V shared between ballast 1.6 Ω and coil 1.5 Ω, 4.06 A flowing."},
		{fullCar(), "T37", "Coil about 1.5 Ω, ballast 1.6 Ω, 3.1 Ω in all: 4.06 A from 12.6 V."},
		{fullCar(), "T9", "Between 57 and 63 distributor degrees of the 90 there are for each of 4 cylinders, changing by at most 3."},
		{Car{}, "T37", "Coil 2.8 to 4 Ω at 12 V without a ballast; with one, coil and ballast 2.8 to 3.3 Ω together."},
	} {
		one := known().tests[known().testAt[c.test]]
		if got := one.expected(c.car, figuresOf(c.car, Facts{})); got != c.want {
			t.Errorf("%s: %s\nwant %s", c.test, got, c.want)
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct {
		in    In
		field string
	}{
		{In{Symptoms: []string{"S99"}}, "symptoms[0]"},
		{In{Symptoms: []string{"S01", "s1"}}, "symptoms[1]"},
		{In{LastChanged: []string{"T1"}}, "lastChanged[0]"},
		{In{LastChanged: []string{"IG01", "ig1"}}, "lastChanged[1]"},
		{In{Observations: []Observation{{ID: "T99", Result: "not"}}}, "observations[0].id"},
		{In{Observations: []Observation{{ID: "F.mark", Result: "not"}}}, "observations[0].id"},
		{In{Observations: []Observation{{ID: "T1", Result: "not"}, {ID: "t01", Result: "not"}}}, "observations[1].id"},
		{In{Observations: []Observation{{ID: "T1"}}}, "observations[0].result"},
		{In{Observations: []Observation{{ID: "T1", Seen: "blue"}}}, "observations[0].seen"},
		{In{Observations: []Observation{{ID: "T1", Seen: "one-lead", Result: "expected"}}}, "observations[0].seen"},
		{In{Observations: []Observation{{ID: "T1", Value: num(3), Result: "not"}}}, "observations[0].value"},
		{In{Observations: []Observation{{ID: "T2", Value: num(300)}}}, "observations[0].value"},
		{In{Observations: []Observation{{ID: "T2", Value: num(3), Unit: "A"}}}, "observations[0].unit"},
		{In{Observations: []Observation{{ID: "T2", Value: num(3)}}}, "observations[0].result"},
		{In{Car: Car{NominalV: num(8)}}, "car.nominalV"},
		{In{Car: Car{GapMinMm: num(.5), GapMaxMm: num(.4)}}, "car.gapMaxMm"},
		{In{Facts: Facts{Checks: []Checked{{"B99", "pass"}}}}, "facts.checks[0].id"},
		{In{Facts: Facts{Accounts: []Account{{"sound", .9}, {"drag", .9}}}}, "facts.accounts"},
	} {
		_, err := Rank(c.in)
		var bad *refuse.Error
		if !errors.As(err, &bad) || bad.Field != c.field || bad.Limit == "" || bad.Do == "" {
			t.Errorf("wanted %s refused: %v", c.field, err)
		}
	}
}

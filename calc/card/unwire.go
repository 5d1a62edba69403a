package card

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"

	"pointsmith/calc/advance"
	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
)

var errColumns = errors.New("columns of one table differ in length")

// readPayload reads the payload of a version: strictly, within the card's
// limits, and only in the one spelling this package writes.
func readPayload(version byte, payload []byte) (Card, error) {
	var w wire
	d := json.NewDecoder(bytes.NewReader(payload))
	d.DisallowUnknownFields()
	if err := d.Decode(&w); err != nil {
		return Card{}, err
	}
	c, err := fromWire(w)
	if err != nil {
		return Card{}, err
	}
	if c, err = withinLimits(c); err != nil {
		return Card{}, err
	}
	again, err := c.payload()
	if err != nil {
		return Card{}, err
	}
	if !bytes.Equal(again, payload) || c.version() != version {
		return Card{}, fmt.Errorf("the text inside is not written as version %d writes it", version)
	}
	return c, nil
}

// Checked gives a card that is within its limits, or says what is not, as Link
// does, but without asking whether a link can hold it.
func Checked(c Card) (Card, error) {
	c, err := withinLimits(c)
	var bad *refuse.Error
	if errors.As(err, &bad) {
		return Card{}, bad.Under("card")
	}
	return c, err
}

// withinLimits holds a card against the limits in its struct tags and against
// the rules for text.
func withinLimits(c Card) (Card, error) {
	text, err := json.Marshal(c)
	if err != nil {
		return Card{}, err
	}
	if c, err = schema.Decode[Card](text); err != nil {
		return Card{}, err
	}
	if bad := c.text(); bad != nil {
		return Card{}, bad
	}
	return c, nil
}

func fromWire(w wire) (Card, error) {
	c := Card{SpecSource: w.SpecSource, AsSet: w.AsSet, SetBy: w.SetBy, CheckedBy: w.CheckedBy, Date: w.Date,
		Odometer: w.Odometer, Fuel: w.Fuel, Warnings: w.Warnings, LeftUndone: w.LeftUndone,
		NextCheck: w.NextCheck, State: w.State, Work: w.Work}
	var err error
	if c.Car.Name = w.Car.Name; len(w.Car.Facts) > 0 {
		if c.Car.Facts, err = fromWireFacts(w.Car.Facts); err != nil {
			return c, err
		}
	}
	if d := w.Distributor; d != nil {
		c.Distributor = &Distributor{Name: d.Name, TypeNumber: d.TypeNumber, Rotation: d.Rotation,
			FiringOrder: d.FiringOrder}
		if c.Distributor.Facts, err = fromWireFacts(d.Facts); err != nil {
			return c, err
		}
	}
	if w.Spec != nil {
		if c.Spec, err = fromWireSpec(*w.Spec); err != nil {
			return c, err
		}
	}
	for _, set := range w.Curves {
		read, err := fromWireSet(set)
		if err != nil {
			return c, err
		}
		c.Curves = append(c.Curves, read)
	}
	return c, nil
}

func fromWireSpec(w wireSpec) (*advance.Spec, error) {
	s := w.Spec
	if len(w.RPM) != len(w.Min) || len(w.RPM) != len(w.Max) {
		return nil, errColumns
	}
	for i := range w.RPM {
		s.Points = append(s.Points, advance.SpecPoint{RPM: w.RPM[i], MinDeg: w.Min[i], MaxDeg: w.Max[i]})
	}
	return &s, nil
}

func fromWireSet(w wireSet) (advance.Set, error) {
	s := w.Set
	if len(w.RPM) != len(w.Deg) || w.Direction != "" && len(w.Direction) != len(w.RPM) {
		return s, errColumns
	}
	s.Points = []advance.ReadingPoint{}
	for i := range w.RPM {
		p := advance.ReadingPoint{RPM: w.RPM[i], Deg: w.Deg[i]}
		if w.Direction != "" {
			p.Direction = map[byte]string{rising: "rising", falling: "falling"}[w.Direction[i]]
		}
		s.Points = append(s.Points, p)
	}
	return s, nil
}

func fromWireFacts(facts map[string]wireFact) (map[string]Fact, error) {
	if len(facts) == 0 {
		return nil, nil
	}
	out := map[string]Fact{}
	for name, row := range facts {
		if len(row) < 1 || len(row) > 4 {
			return nil, errors.New("a fact has no value or too many parts")
		}
		full := append(append(wireFact{}, row...), "", "", "")
		out[name] = Fact{full[0], full[1], full[2], full[3]}
	}
	return out, nil
}

package card

import (
	"bytes"
	"encoding/json"

	"pointsmith/calc/advance"
)

// The wire types are the payload. Their names and their order are part of the
// format and must not be changed: links already sent were written with them.
// Version 2 is version 1 with State behind it, version 3 is version 2 with Work
// behind that; a card without them is still written in the version before, so
// that older programs read it.

type wire struct {
	Car         wireCar          `json:"c"`
	Distributor *wireDistributor `json:"d,omitempty"`
	Spec        *wireSpec        `json:"s,omitempty"`
	SpecSource  string           `json:"b,omitempty"`
	AsSet       *AsSet           `json:"a,omitempty"`
	Curves      []wireSet        `json:"k,omitempty"`
	SetBy       string           `json:"setBy,omitempty"`
	CheckedBy   string           `json:"checkedBy,omitempty"`
	Date        string           `json:"date,omitempty"`
	Odometer    string           `json:"odometer,omitempty"`
	Fuel        string           `json:"fuel,omitempty"`
	Warnings    []string         `json:"warnings,omitempty"`
	LeftUndone  []string         `json:"leftUndone,omitempty"`
	NextCheck   string           `json:"nextCheck,omitempty"`
	State       *State           `json:"state,omitempty"` // from version 2 on
	Work        []Work           `json:"work,omitempty"`  // from version 3 on
}

type wireCar struct {
	Name  string              `json:"n"`
	Facts map[string]wireFact `json:"f,omitempty"`
}

type wireDistributor struct {
	Name        string              `json:"n,omitempty"`
	TypeNumber  string              `json:"t,omitempty"`
	Rotation    string              `json:"r,omitempty"`
	FiringOrder []int               `json:"o,omitempty"`
	Facts       map[string]wireFact `json:"f,omitempty"`
}

// wireFact is value, unit, source and note, with empty ones cut off the end.
type wireFact []string

// wireSpec is the spec with its table in columns.
type wireSpec struct {
	advance.Spec
	Points *struct{}  `json:"points,omitempty"` // hides the rows
	RPM    []float64  `json:"n"`
	Min    []*float64 `json:"l"`
	Max    []*float64 `json:"h"`
}

// wireSet is a set of readings with its rows in columns; d is empty where all
// readings leave their direction open, else one letter a reading.
type wireSet struct {
	advance.Set
	Points    *struct{} `json:"points,omitempty"` // hides the rows
	RPM       []float64 `json:"n"`
	Deg       []float64 `json:"g"`
	Direction string    `json:"d,omitempty"`
}

// letters of a reading's direction in the payload.
const (
	openDirection = '-'
	rising        = 'r'
	falling       = 'f'
)

func toWire(c Card) wire {
	w := wire{Car: wireCar{c.Car.Name, toWireFacts(c.Car.Facts)}, SpecSource: c.SpecSource, AsSet: c.AsSet,
		SetBy: c.SetBy, CheckedBy: c.CheckedBy, Date: c.Date, Odometer: c.Odometer, Fuel: c.Fuel,
		Warnings: c.Warnings, LeftUndone: c.LeftUndone, NextCheck: c.NextCheck, State: c.State, Work: c.Work}
	if d := c.Distributor; d != nil {
		w.Distributor = &wireDistributor{d.Name, d.TypeNumber, d.Rotation, d.FiringOrder, toWireFacts(d.Facts)}
	}
	if c.Spec != nil {
		s := wireSpec{Spec: *c.Spec, RPM: []float64{}, Min: []*float64{}, Max: []*float64{}}
		for _, p := range c.Spec.Points {
			s.RPM, s.Min, s.Max = append(s.RPM, p.RPM), append(s.Min, p.MinDeg), append(s.Max, p.MaxDeg)
		}
		s.Spec.Points = nil
		w.Spec = &s
	}
	for _, set := range c.Curves {
		w.Curves = append(w.Curves, toWireSet(set))
	}
	return w
}

func toWireSet(set advance.Set) wireSet {
	w := wireSet{Set: set, RPM: []float64{}, Deg: []float64{}}
	var directions []byte
	said := false
	for _, p := range set.Points {
		w.RPM, w.Deg = append(w.RPM, p.RPM), append(w.Deg, p.Deg)
		letter := map[string]byte{"rising": rising, "falling": falling}[p.Direction]
		if letter == 0 {
			letter = openDirection
		}
		said = said || letter != openDirection
		directions = append(directions, letter)
	}
	if said {
		w.Direction = string(directions)
	}
	w.Set.Points = nil
	return w
}

func toWireFacts(facts map[string]Fact) map[string]wireFact {
	out := map[string]wireFact{}
	for name, f := range facts {
		row := wireFact{f.Value, f.Unit, f.Source, f.Note}
		for len(row) > 1 && row[len(row)-1] == "" {
			row = row[:len(row)-1]
		}
		out[name] = row
	}
	return out
}

// version is the oldest one that can hold the card.
func (c Card) version() byte {
	switch {
	case len(c.Work) > 0:
		return 3
	case c.State != nil:
		return 2
	}
	return 1
}

// payload writes a card as its version has it.
func (c Card) payload() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(toWire(c)); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

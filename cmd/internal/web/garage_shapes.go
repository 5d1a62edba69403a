package web

import (
	"encoding/json"
	"fmt"

	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
)

// The bodies of the garage's documents. Figures a person typed are kept as
// they were typed, as text: "12,5" stays "12,5". Whether they make sense is
// for the calculation to say; here only shape and size are checked.

// A car is one car of the garage.
type car struct {
	Name          string          `json:"name" need:"yes" maxLen:"80" help:"what its people call it"`
	Owner         string          `json:"owner" maxLen:"80"`
	DistributorID string          `json:"distributorId" maxLen:"32" help:"the distributor that is on it, or empty"`
	Facts         map[string]fact `json:"facts" maxItems:"200"`
	Demo          bool            `json:"demo" help:"an invented car, to try things on"`
}

// A fact is one figure of a car, a distributor or a visit and where it came from.
type fact struct {
	Value  string `json:"value" maxLen:"4000" help:"as typed; some facts are told in words"`
	Unit   string `json:"unit" maxLen:"40"`
	Source string `json:"source" enum:"book|measured|common practice|guess|" help:"empty: not known"`
	Note   string `json:"note" maxLen:"2000"`
}

// A distributor is a unit with its own history; it may move between cars.
type distributor struct {
	Name        string          `json:"name" maxLen:"80"`
	TypeNumber  string          `json:"typeNumber" maxLen:"80" help:"as stamped on the body"`
	Facts       map[string]fact `json:"facts" maxItems:"200"`
	Sheet       sheet           `json:"sheet" help:"the book's table as printed"`
	SheetSource string          `json:"sheetSource" maxLen:"400" help:"book and page"`
}

// A sheet is the book's advance table as printed; empty: not known.
type sheet struct {
	AngleUnit             string     `json:"angleUnit" enum:"crank|distributor|"`
	SpeedUnit             string     `json:"speedUnit" enum:"engine|distributor|"`
	Base                  string     `json:"base" enum:"included|excluded|" help:"whether the angles carry the base"`
	BaseCrankDeg          string     `json:"baseCrankDeg" maxLen:"40"`
	BaseSide              string     `json:"baseSide" enum:"before|after|" help:"of top dead centre"`
	BaseToleranceCrankDeg string     `json:"baseToleranceCrankDeg" maxLen:"40"`
	NoAdvanceBelow        string     `json:"noAdvanceBelow" maxLen:"40" help:"in the sheet's speed unit"`
	DriveRatio            string     `json:"driveRatio" maxLen:"40" help:"engine turns for one of the distributor"`
	ListedWhile           string     `json:"listedWhile" enum:"either|rising|falling|"`
	LimitDistDeg          string     `json:"limitDistDeg" maxLen:"40" help:"as stamped on the limit plate"`
	ConfirmedTotal        string     `json:"confirmedTotal,omitempty" maxLen:"40" help:"timing in all, crank degrees before TDC, that a person has confirmed beyond the limit of ordinary entry"`
	Rows                  []sheetRow `json:"rows" maxItems:"200"`
}

type sheetRow struct {
	RPM string `json:"rpm" maxLen:"40"`
	Min string `json:"min" maxLen:"40"`
	Max string `json:"max" maxLen:"40"`
}

// A visit is a dated set of readings and work.
type visit struct {
	CarID         string       `json:"carId" maxLen:"32"`
	DistributorID string       `json:"distributorId" maxLen:"32"`
	Date          string       `json:"date" maxLen:"10" help:"year-month-day, or empty"`
	Title         string       `json:"title" maxLen:"400"`
	Notes         string       `json:"notes" maxLen:"20000"`
	Sets          []readingSet `json:"sets" maxItems:"100"`

	Facts map[string]fact `json:"facts" maxItems:"400" help:"what was measured or seen that day besides the curve, by name"`

	Events []event `json:"events" maxItems:"1000" help:"what was judged, changed, undone and put back that day, for the order of work"`
}

// An event is one thing judged, changed, undone for a while or put back. Its
// words are those of the method work.order, which says what they mean.
type event struct {
	ID       string   `json:"id" need:"yes" maxLen:"32"`
	At       string   `json:"at" maxLen:"40" help:"when"`
	Step     string   `json:"step" maxLen:"40" help:"the step of the order of work that was judged"`
	Verdict  string   `json:"verdict" enum:"pass|watch|fail|unknown|"`
	What     string   `json:"what" maxLen:"200" help:"in words"`
	Changed  string   `json:"changed" maxLen:"40"`
	Undone   []string `json:"undone" maxItems:"16" maxLen:"40"`
	Restored []string `json:"restored" maxItems:"16" maxLen:"40"`
	Odometer string   `json:"odometer" maxLen:"40" help:"distance on the clock, as typed"`
	Removed  bool     `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`
}

// A readingSet is one run, on the bench or on the car.
type readingSet struct {
	ID                   string    `json:"id" need:"yes" maxLen:"32"`
	Place                string    `json:"place" enum:"bench|car|"`
	AngleUnit            string    `json:"angleUnit" enum:"crank|distributor|"`
	SpeedUnit            string    `json:"speedUnit" enum:"engine|distributor|"`
	Base                 string    `json:"base" enum:"included|excluded|"`
	Vacuum               string    `json:"vacuum" enum:"off|connected|"`
	ReadingErrorCrankDeg string    `json:"readingErrorCrankDeg" maxLen:"40"`
	StaticCrankDeg       string    `json:"staticCrankDeg" maxLen:"40" help:"proved with the lamp, engine stopped"`
	StaticSide           string    `json:"staticSide" enum:"before|after|"`
	Readings             []reading `json:"readings" maxItems:"1000"`
	Removed              bool      `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`
}

// A reading is one pair of speed and angle.
type reading struct {
	ID        string `json:"id" need:"yes" maxLen:"32"`
	RPM       string `json:"rpm" maxLen:"40"`
	Deg       string `json:"deg" maxLen:"40"`
	Side      string `json:"side" enum:"before|after|"`
	Direction string `json:"direction" enum:"rising|falling|"`
	At        string `json:"at" maxLen:"40" help:"when it was typed"`
	Removed   bool   `json:"removed,omitempty" help:"taken out by its author; kept so that it stays out"`
}

// A shape knows one kind of document.
type shape struct {
	body  schema.Object
	check func(body []byte) error
}

var shapes = map[string]shape{
	"car": shapeOf(func(c car) []named { return []named{{"name", c.Name, true}} }),
	"distributor": shapeOf(func(d distributor) []named {
		return []named{{"name", d.Name, false}}
	}),
	"visit": shapeOf(func(visit) []named { return nil }),
}

// kinds are the kinds of document in the order people meet them.
var kinds = []string{"car", "distributor", "visit"}

// shapeOf makes the shape of T, whose names get the stricter check of names.
func shapeOf[T any](names func(T) []named) shape {
	return shape{schema.Of[T](), func(body []byte) error {
		document, err := schema.Decode[T](body)
		if err != nil {
			return err
		}
		for _, n := range names(document) {
			if bad := n.check(); bad != nil {
				return bad
			}
		}
		return nil
	}}
}

func refuseKind(kind string) *refuse.Error {
	return refuse.Input("kind", fmt.Sprintf("%.40q is not a kind of document", kind), "car, distributor or visit", "use one of them in the address")
}

// A pushed is what a phone sends to PUT.
type pushed struct {
	Base      string          `json:"base" maxLen:"64" help:"revision it was edited from, empty for a new document"`
	ChangedAt string          `json:"changedAt" need:"yes" maxLen:"40" help:"when it was typed, RFC 3339"`
	Device    string          `json:"device" maxLen:"80" help:"name of the phone, for the names of kept copies"`
	Body      json.RawMessage `json:"body" need:"yes"`
}

// A removed is what a phone sends to DELETE.
type removed struct {
	Base      string `json:"base" maxLen:"64" help:"revision that was looked at when it was deleted"`
	ChangedAt string `json:"changedAt" need:"yes" maxLen:"40" help:"when it was deleted, RFC 3339"`
	Device    string `json:"device" maxLen:"80" help:"name of the phone"`
}

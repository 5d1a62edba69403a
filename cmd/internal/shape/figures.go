package shape

import (
	"fmt"
	"reflect"
	"strings"

	"pointsmith/calc"
	"pointsmith/calc/schema"
)

// A limit is what a calculation takes: from Min to Max, more than Over, less
// than Under; nil where there is none.
type limit struct {
	Min   *float64 `json:"min,omitempty"`
	Max   *float64 `json:"max,omitempty"`
	Over  *float64 `json:"over,omitempty"`
	Under *float64 `json:"under,omitempty"`
}

// methods are the calculations of whose inputs the app knows the limits before
// it calls them, because figures for them stand among the facts of a document
// or are turned by hand.
var methods = []string{"advance.expect", "advance.whatif", "cap.plan", "card.link", "coil.sweep",
	"combustion.weigh", "marks.static", "marks.tdc", "points.judge", "scatter.analyse", "time.turn", "vacuum.judge"}

// figures gives the limits of the figures typed in documents, as "reading.deg".
func figures() (map[string]limit, error) {
	out := map[string]limit{}
	for _, t := range structs() {
		for i := range t.NumField() {
			tag := t.Field(i).Tag
			method, path, isFigure := strings.Cut(tag.Get("figure"), " ")
			if !isFigure {
				continue
			}
			all, err := takenBy(method)
			if err != nil {
				return nil, err
			}
			found, isThere := all[path]
			if !isThere {
				return nil, fmt.Errorf("%s.%s: %s takes no limited number %s", t.Name(), jsonName(tag), method, path)
			}
			out[t.Name()+"."+jsonName(tag)] = found
		}
	}
	return out, nil
}

// inputs gives the limits of every number that methods take.
func inputs() (map[string]map[string]limit, error) {
	out := map[string]map[string]limit{}
	for _, name := range methods {
		var err error
		if out[name], err = takenBy(name); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// longest gives the most characters of each text of a document, as "row.rpm".
func longest() map[string]int {
	out := map[string]int{}
	for _, t := range structs() {
		for i := range t.NumField() {
			if tag := t.Field(i).Tag; tag.Get("maxLen") != "" {
				out[t.Name()+"."+jsonName(tag)] = most(tag, "maxLen")
			}
		}
	}
	return out
}

func takenBy(method string) (map[string]limit, error) {
	for _, m := range calc.Describe() {
		if m.Name == method {
			out := map[string]limit{}
			collect(m.In, "", out)
			return out, nil
		}
	}
	return nil, fmt.Errorf("there is no calculation %s", method)
}

// collect walks an input; a list's members go by the list's own name.
func collect(o schema.Object, under string, out map[string]limit) {
	for _, f := range o.Fields {
		path := under + f.Name
		for f.Items != nil {
			f = *f.Items
		}
		l := limit{f.Min, f.Max, f.Over, f.Under}
		switch {
		case f.Object != nil:
			collect(*f.Object, path+".", out)
		case (f.Kind == "number" || f.Kind == "integer") && !reflect.DeepEqual(l, limit{}):
			out[path] = l
		}
	}
}

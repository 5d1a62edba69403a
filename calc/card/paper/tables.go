package paper

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"pointsmith/calc/advance"
	"pointsmith/calc/card"
)

// mostPrinted is how many rows of a table stand on paper: more would push the
// card off its sheet, and the figure shows them. Chosen.
const mostPrinted = 24

// bookTable is the book's own table, in its own units.
func bookTable(c card.Card) markup {
	s := c.Spec
	if s == nil {
		return ""
	}
	base := "base unknown"
	if s.BaseCrankDeg != nil {
		where := "before"
		if *s.BaseCrankDeg < 0 {
			where = "after"
		}
		base = fmt.Sprintf("base %s crank degrees %s TDC", short(math.Abs(*s.BaseCrankDeg)), where)
	}
	if s.BaseToleranceCrankDeg > 0 {
		base += " ± " + short(s.BaseToleranceCrankDeg)
	}
	parts := []string{inFigures(s.Base), base}
	if s.LimitDistDeg != nil {
		parts = append(parts, "stop "+short(*s.LimitDistDeg)+" distributor degrees")
	}
	var rows [][]string
	for _, p := range s.Points {
		rows = append(rows, []string{rpm(p.RPM), edge(p.MinDeg), edge(p.MaxDeg)})
	}
	of := " " + s.AngleUnit + " degrees"
	heads := []string{s.SpeedUnit + " rpm", "least," + of, "most," + of}
	var source markup
	if c.SpecSource != "" {
		source = el("p", class("note"), text(c.SpecSource))
	}
	by := text("By the book")
	if _, isChosen := c.Car.Facts["chosenCurve"]; isChosen {
		by = text("By the curve chosen for this engine")
	}
	return el("section", nil, el("h3", nil, by), source, table(strings.Join(parts, ", "), heads, rows))
}

func inFigures(base string) string {
	if base == "included" {
		return "base in the figures"
	}
	return "base apart"
}

// edge is a figure of the book; a row may name only a least or only a most.
func edge(deg *float64) string {
	if deg == nil {
		return "not named"
	}
	return tenth(*deg)
}

// readingTable is one set of readings, speed by speed, in its own units.
func readingTable(set advance.Set) markup {
	points := slices.Clone(set.Points)
	slices.SortStableFunc(points, func(a, b advance.ReadingPoint) int { return cmp.Compare(a.RPM, b.RPM) })
	isBothWays := slices.ContainsFunc(points, isFalling)
	heads := []string{set.SpeedUnit + " rpm", set.AngleUnit + " degrees"}
	if isBothWays {
		heads = []string{heads[0], "rising, " + heads[1], "falling, " + heads[1]}
	}
	var rows [][]string
	for i := 0; i < len(points); {
		n := i
		for n < len(points) && points[n].RPM == points[i].RPM {
			n++
		}
		row := []string{rpm(points[i].RPM), degrees(points[i:n], false)}
		if isBothWays {
			row = append(row, degrees(points[i:n], true))
		}
		rows, i = append(rows, row), n
	}
	where := "On the car, by strobe"
	if set.Place == "bench" {
		where = "On the bench"
	}
	caption := said(", ", where, inFigures(set.Base), pipes[set.Vacuum])
	return el("section", class("reading"), el("h3", nil, "Read: ", text(nameOf(set))), table(caption, heads, rows))
}

func isFalling(p advance.ReadingPoint) bool { return p.Direction == "falling" }

func degrees(points []advance.ReadingPoint, falling bool) string {
	var all []string
	for _, p := range points {
		if isFalling(p) == falling {
			all = append(all, tenth(p.Deg))
		}
	}
	if len(all) == 0 {
		return "–"
	}
	return strings.Join(all, ", ")
}

func table(caption string, heads []string, rows [][]string) markup {
	var head, body []markup
	for _, h := range heads {
		head = append(head, el("th", attrs{{"scope", "col"}}, val(h)))
	}
	for _, row := range rows {
		cells := []markup{el("th", attrs{{"scope", "row"}}, val(row[0]))}
		for _, cell := range row[1:] {
			cells = append(cells, el("td", nil, val(cell)))
		}
		body = append(body, el("tr", nil, cells...))
	}
	var with attrs
	var short markup
	if len(rows) > mostPrinted {
		with = class("long")
		short = el("p", class("paper note"), val(fmt.Sprintf("%d rows: see the figure.", len(rows))))
	}
	return el("table", with, el("caption", nil, val(caption)), el("thead", nil, el("tr", nil, head...)),
		el("tbody", nil, body...)) + short
}

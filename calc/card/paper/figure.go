package paper

import (
	"fmt"
	"strconv"
	"strings"
)

// figure draws book and readings, with a key that tells the lines apart by
// their marks and dashes, never by colour. Empty where nothing can be drawn.
func figure(p plot) markup {
	if len(p.all()) == 0 {
		return ""
	}
	f := frameOf(p)
	parts := []markup{f.grid(), f.band(p.book)}
	for i, c := range p.curves {
		parts = append(parts, f.curve(c, styleOf(i)))
	}
	title := markup("Total timing, crank degrees before TDC, against engine rpm")
	if !p.isTotal {
		title = "Advance above the base, crank degrees, against engine rpm"
	}
	drawing := el("svg", attrs{{"viewBox", sized("0 0 %s %s", figureWidth, figureHeight)}, {"role", "img"},
		{"aria-label", title}}, parts...)
	caption := []markup{title, "."}
	if p.leftOut > 0 {
		caption = append(caption, " Readings without a known base are not drawn.")
	}
	return el("figure", class("curve"), drawing, el("figcaption", nil, caption...), key(p))
}

// lineStyle is how one set is drawn: its mark and its dashes.
type lineStyle struct {
	mark, dashes markup
}

var styles = []lineStyle{{"disc", "0"}, {"square", "7 4"}, {"triangle", "2 4"}, {"cross", "9 3 2 3"}}

func styleOf(i int) lineStyle { return styles[i%len(styles)] }

// grid is the lines across with their figures.
func (f frame) grid() markup {
	var lines, figures strings.Builder
	mark := func(x, y float64, anchor, figure string) {
		fmt.Fprintf(&figures, `<text x="%s" y="%s" text-anchor="%s">%s</text>`, px(x), px(y), anchor, figure)
	}
	for _, v := range f.speed.marks() {
		fmt.Fprintf(&lines, "M%s %sV%s", px(f.x(v)), px(plotTop), px(plotBottom))
		mark(f.x(v), plotBottom+15, "middle", rpm(v)) // 15 and 4 beside: where 11 px letters sit on the line
	}
	for _, v := range f.angle.marks() {
		fmt.Fprintf(&lines, "M%s %sH%s", px(plotLeft), px(f.y(v)), px(plotRight))
		mark(plotLeft-5, f.y(v)+4, "end", short(v))
	}
	mark((plotLeft+plotRight)/2, figureHeight-6, "middle", "engine rpm")
	return void("path", attrs{{"class", "grid"}, {"d", markup(lines.String())}}) + markup(figures.String())
}

// band is the book: filled where rows beside one another name both edges, and
// a stroke at each edge that a row names.
func (f frame) band(rows []row) markup {
	var fill, edges strings.Builder
	for i, r := range rows {
		for _, edge := range []*float64{r.min, r.max} {
			if edge != nil { // 4 to each side: wide enough to be seen
				fmt.Fprintf(&edges, "M%s %sh8", px(f.x(r.engineRPM)-4), px(f.y(*edge)))
			}
		}
		if i == 0 || r.min == nil || r.max == nil || rows[i-1].min == nil || rows[i-1].max == nil {
			continue
		}
		b := rows[i-1]
		fmt.Fprintf(&fill, "M%s %sL%s %sL%s %sL%s %sz", px(f.x(b.engineRPM)), px(f.y(*b.min)),
			px(f.x(r.engineRPM)), px(f.y(*r.min)), px(f.x(r.engineRPM)), px(f.y(*r.max)),
			px(f.x(b.engineRPM)), px(f.y(*b.max)))
	}
	if edges.Len() == 0 {
		return ""
	}
	return void("path", attrs{{"class", "band"}, {"d", markup(fill.String())}}) +
		void("path", attrs{{"class", "edge"}, {"d", markup(edges.String())}})
}

// curve is the line while the speed rises, and a mark at every reading; those
// while it falls are hollow.
func (f frame) curve(c curve, s lineStyle) markup {
	var line, full, hollow strings.Builder
	for i, p := range c.rising {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		fmt.Fprintf(&line, "%s%s %s", letter, px(f.x(p.engineRPM)), px(f.y(p.crankDeg)))
		full.WriteString(markAt(s.mark, f.x(p.engineRPM), f.y(p.crankDeg)))
	}
	for _, p := range c.falling {
		hollow.WriteString(markAt(s.mark, f.x(p.engineRPM), f.y(p.crankDeg)))
	}
	return void("path", attrs{{"class", "line"}, {"stroke-dasharray", s.dashes}, {"d", markup(line.String())}}) +
		void("path", attrs{{"class", "full"}, {"d", markup(full.String())}}) +
		void("path", attrs{{"class", "hollow"}, {"d", markup(hollow.String())}})
}

// markAt draws a mark of about 6 px.
func markAt(mark markup, x, y float64) string {
	switch mark {
	case "square":
		return fmt.Sprintf("M%s %sh6v6h-6z", px(x-3), px(y-3))
	case "triangle":
		return fmt.Sprintf("M%s %sl4 7h-8z", px(x), px(y-4))
	case "cross":
		return fmt.Sprintf("M%s %sl6 6m0 -6l-6 6", px(x-3), px(y-3))
	}
	return fmt.Sprintf("M%s %sa3 3 0 1 0 6 0a3 3 0 1 0 -6 0z", px(x-3), px(y))
}

// key tells what is what.
func key(p plot) markup {
	var items []markup
	sample := func(inner ...markup) markup {
		return el("svg", attrs{{"viewBox", "0 0 40 12"}, {"class", "sample"}, {"aria-hidden", "true"}}, inner...)
	}
	if len(p.book) > 0 {
		items = append(items, el("li", nil, sample(void("path", attrs{{"class", "band"}, {"d", "M0 1h40v10h-40z"}})),
			"the book allows"))
	}
	var isFalling bool
	for i, c := range p.curves {
		s := styleOf(i)
		items = append(items, el("li", nil, sample(
			void("path", attrs{{"class", "line"}, {"stroke-dasharray", s.dashes}, {"d", "M0 6h40"}}),
			void("path", attrs{{"class", "full"}, {"d", markup(markAt(s.mark, 20, 6))}})), text(c.name)))
		isFalling = isFalling || len(c.falling) > 0
	}
	if isFalling {
		items = append(items, el("li", nil, "Hollow marks: read while the speed falls."))
	}
	return el("ul", class("key"), items...)
}

// px writes a place on the drawing to a tenth of a pixel.
func px(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

func sized(format string, a, b float64) markup { return markup(fmt.Sprintf(format, px(a), px(b))) }

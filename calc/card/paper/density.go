package paper

import "unicode/utf8"

// How full a card is decides the size of its letters on paper, and in the end
// what is not printed, so that it stays one sheet of A4 and of Letter. The
// bounds are tried on cards that were printed (the browser tests hold them);
// the unit is a line of the sheet.
const (
	denseFrom   = 40
	denserFrom  = 60
	fullestFrom = 78  // from here on the tables of the readings are not printed: the figure shows them
	tooFullFrom = 102 // from here on only what stands first is printed
	lineLetters = 60  // letters to a line, about
	curveLines  = 2   // of a set of readings in the key of the figure
)

// fullness counts the lines of a card on paper.
func (s sheet) fullness() int {
	n := 0
	add := func(texts ...string) {
		letters := 0
		for _, text := range texts {
			letters += utf8.RuneCountInString(text)
		}
		n += 1 + letters/lineLetters
	}
	for _, l := range s.lines {
		add(l.Text, l.Note)
	}
	for _, w := range s.card.Work {
		add(workWords(w))
	}
	for _, line := range append(append([]string{}, s.card.Warnings...), s.card.LeftUndone...) {
		add(line)
	}
	longest := 0
	if s.card.Spec != nil {
		longest = min(len(s.card.Spec.Points), mostPrinted)
	}
	for _, set := range s.card.Curves {
		longest = max(longest, min(len(set.Points), mostPrinted))
	}
	return n + longest + len(s.card.Curves)*curveLines
}

// density is how the sheet is to be printed.
func (s sheet) density() markup {
	switch n := s.fullness(); {
	case n > tooFullFrom:
		return "denser fullest too-full"
	case n > fullestFrom:
		return "denser fullest"
	case n > denserFrom:
		return "denser"
	case n > denseFrom:
		return "dense"
	}
	return "loose"
}

// notPrinted says on paper what only the phone shows.
func (s sheet) notPrinted() markup {
	switch n := s.fullness(); {
	case n > tooFullFrom:
		return el("p", class("paper note"), "More than one sheet holds: facts and tables stand in the page itself.")
	case n > fullestFrom && len(s.card.Curves) > 0:
		return el("p", class("paper note"), "The readings, figure by figure, stand in the page itself.")
	}
	return ""
}

package figures

import (
	"regexp"
	"strconv"
	"strings"
)

// words is the way of writing in which each line is a sentence of its own:
// "1000: 7 to 9", "7-9 at 1000", "max 14 at 2500", "2500 at most 14".
const words = "words"

var (
	leadsTo    = regexp.MustCompile(`^([^:=→]+?)\s*(?::|=>|=|-+>|→)\s*(.+)$`)
	isAt       = regexp.MustCompile(`^(.+?)\s*(?:\bat|@)\s+(\d.*)$`)
	isBound    = regexp.MustCompile(`^(\d.*?)\s+((?:` + bounds + `).*)$`)
	boundFirst = regexp.MustCompile(`^(?:` + bounds + `)\s*`)
)

// bounds are the words before a least or a most, as a pattern (common practice).
const bounds = `max(?:imum)?\b\.?|min(?:imum)?\b\.?|at most\b|at least\b|up to\b|not more than\b|no more than\b|` +
	`not less than\b`

// noAdvance is what a book says of the lowest speeds (common practice).
var noAdvance = regexp.MustCompile(`^(?:(?:(?:no|nil|none)(?: advance)? )?below|advance (?:starts|begins) (?:at|above)) ` +
	`([\d.,' ]*\d)((?:[a-z./ ]|engine|distributor)*?)(?:[:= ]+(?:nil|none|no advance|0))?$`)

// longestSentence: longer lines are none, and would be slow to match
// (judgement).
const longestSentence = 120 // bytes

// sentence reads a line that says a speed and its degrees in words, as two
// cells.
func sentence(raw string) ([]string, bool) {
	if len(raw) > longestSentence || strings.ContainsAny(raw, "\t;|\"\n") {
		return nil, false
	}
	line := plainLetters(raw)
	if at := leadsTo.FindStringSubmatch(line); at != nil {
		return pair(at[1], at[2])
	}
	if at := isAt.FindStringSubmatch(line); at != nil {
		return pair(at[2], at[1])
	}
	if at := isBound.FindStringSubmatch(line); at != nil {
		return pair(at[1], at[2])
	}
	return nil, false
}

// pair gives the two as cells where they can be a speed and degrees. “max 12 to
// 14” names both edges, so its bound falls away.
func pair(speed, angle string) ([]string, bool) {
	marks := []mark{point, comma}
	if !mayBe(speed, isSpeed, marks) {
		return nil, false
	}
	for _, cell := range []string{angle, boundFirst.ReplaceAllString(angle, "")} {
		if mayBe(cell, isDeg, marks) {
			return []string{speed, cell}, true
		}
	}
	return nil, false
}

// hasSentences tells whether the text is written in sentences: one line is
// one, and none is cut by separators alone.
func (r *reader) hasSentences() bool {
	some := false
	for _, rec := range cut(firstLines(r.text, sampleBytes), 0, sampleRecords) {
		if rec.kind == ofComment || hasPair(joined(rec.cells)) && !isWord(rec.raw) {
			continue
		}
		if isWord(rec.raw) {
			some = true
			continue
		}
		for _, s := range separators[:4] {
			if one := cut(rec.raw, s.letter, 1); len(one) > 0 && hasPair(one[0].cells) {
				return false
			}
		}
	}
	return some
}

func isWord(raw string) bool {
	_, is := sentence(raw)
	return is
}

// cutSentences makes records of sentences, and of the lines between them that
// are cut by blanks. Where such a line has three figures, sentences get a least
// and a most too.
func (r *reader) cutSentences() {
	r.records = cut(r.text, 0, maxText)
	wide := false
	var said []int
	for i := range r.records {
		rec := &r.records[i]
		if rec.kind == ofComment {
			continue
		}
		if cells, is := sentence(rec.raw); is {
			rec.cells, said = cells, append(said, i)
			continue
		}
		rec.cells = joined(rec.cells)
		wide = wide || len(rec.cells) == 3 && len(numericCells(rec.cells)) == 3
	}
	for _, i := range said {
		if wide {
			r.records[i].cells = edges(r.records[i].cells)
		}
	}
}

// edges parts the degrees of a sentence into a least and a most.
func edges(cells []string) []string {
	f := eitherMark(cells[1])
	low, high := strconv.FormatFloat(f.low, 'f', -1, 64), strconv.FormatFloat(f.high, 'f', -1, 64)
	switch f.kind {
	case isAtMost:
		low = ""
	case isAtLeast:
		high = ""
	}
	return []string{cells[0], low, high}
}

// takeNoAdvance takes out the lines that say below which speed there is no
// advance. One that says another speed than the first stays, and is left out
// with the rest of the text.
func (r *reader) takeNoAdvance() {
	kept := r.records[:0]
	for _, rec := range r.records {
		rpm, is := noAdvanceIn(rec)
		if is && (r.below == 0 || r.below == rpm) {
			r.below = rpm
			continue
		}
		kept = append(kept, rec)
	}
	r.records = kept
}

func noAdvanceIn(rec record) (float64, bool) {
	if rec.kind == ofComment || len(rec.raw) > longestSentence {
		return 0, false
	}
	line := strings.Join(strings.Fields(strings.NewReplacer(";", " ", "|", " ", "\t", " ", `"`, " ").
		Replace(plainLetters(rec.raw))), " ")
	at := noAdvance.FindStringSubmatch(strings.Trim(line, ",. "))
	if at == nil {
		return 0, false
	}
	for _, m := range []mark{point, comma} {
		if f := parse(strings.TrimSpace(at[1]+" "+at[2]), m); f.fits(isSpeed) {
			return f.low, true
		}
	}
	return 0, false
}

// giveNoAdvance puts that speed into the answer of a book's table.
func (r *reader) giveNoAdvance() {
	if r.below == 0 {
		return
	}
	if r.out.What == readings {
		r.note("no-advance-below", "The text says below which speed there is no advance. Readings have no place for it: it "+
			"was left out.")
		return
	}
	r.out.NoAdvanceBelowRPM = &r.below
	r.note("no-advance-below", "The text says below which speed there is no advance. It is no row; it stands by itself.")
}

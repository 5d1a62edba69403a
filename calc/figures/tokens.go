package figures

import "strings"

// A record is one line of cells, or more lines where a quoted cell breaks.
type record struct {
	line  int // of the text, from 1
	cells []string
	raw   string
	lax   bool // quotes that RFC 4180 does not allow
	kind  recordKind
	after bool // an empty line stands before it
}

type recordKind int

const (
	ofCells recordKind = iota
	ofComment
)

// A tokenizer cuts a text into records by RFC 4180: cells between separators,
// quotes around a cell that holds separators, quotes (doubled) or line ends.
// Wider than the RFC: lines may end with LF, CR or CRLF; blank lines and lines
// that begin with # are no rows; blanks around a quoted cell are passed over.
// A quote that does not close, or closes before other letters, is a letter of
// its cell, and the record is marked.
type tokenizer struct {
	text    string
	sep     byte // 0: runs of blanks
	at      int
	line    int
	unclose int // quotes that never closed
	store   []string
}

// unclosedMost is after how many quotes that do not close quotes are letters
// (judgement: it bounds the time a hostile text can take).
const unclosedMost = 20

// records cuts the text, at most most records of cells.
func cut(text string, sep byte, most int) []record {
	t := &tokenizer{text: text, sep: sep, line: 1}
	var out []record
	blank := false
	for t.at < len(t.text) && len(out) < most {
		rec, some := t.record()
		if !some {
			blank = true
			continue
		}
		rec.after = blank
		blank = false
		out = append(out, rec)
	}
	return out
}

func (t *tokenizer) record() (record, bool) {
	start, line := t.at, t.line
	if t.skipBlanks(); t.at < len(t.text) && t.text[t.at] == '#' {
		t.toLineEnd()
		raw := t.text[start:t.at]
		t.lineEnd()
		return record{line: line, raw: raw, kind: ofComment}, true
	}
	t.at = start
	from := len(t.store)
	rec := record{line: line}
	some := false
	for {
		cell, lax := t.cell()
		rec.lax = rec.lax || lax
		some = some || strings.TrimSpace(cell) != ""
		t.store = append(t.store, cell)
		if t.at >= len(t.text) || t.isEnd(t.text[t.at]) {
			break
		}
		t.at++ // the separator
	}
	rec.cells = t.store[from:len(t.store):len(t.store)]
	if t.sep == 0 {
		rec.cells = withoutEmpty(rec.cells)
	}
	rec.raw = t.text[start:t.at]
	t.lineEnd()
	return rec, some
}

func (t *tokenizer) isEnd(c byte) bool { return c == '\n' || c == '\r' }

func (t *tokenizer) isSep(c byte) bool {
	if t.sep == 0 {
		return c == ' ' || c == '\t'
	}
	return c == t.sep
}

func (t *tokenizer) lineEnd() {
	if t.at >= len(t.text) {
		return
	}
	if strings.HasPrefix(t.text[t.at:], "\r\n") {
		t.at++
	}
	t.at++
	t.line++
}

func (t *tokenizer) toLineEnd() {
	for t.at < len(t.text) && !t.isEnd(t.text[t.at]) {
		t.at++
	}
}

func (t *tokenizer) skipBlanks() {
	for t.at < len(t.text) && (t.text[t.at] == ' ' || t.text[t.at] == '\t' && t.sep != '\t') {
		t.at++
	}
}

// cell reads one cell and stands at what ends it.
func (t *tokenizer) cell() (string, bool) {
	start := t.at
	t.skipBlanks()
	lax := false
	if t.at < len(t.text) && t.text[t.at] == '"' && t.unclose < unclosedMost {
		if cell, ok := t.quoted(); ok {
			return cell, false
		}
		lax = true
	}
	if t.sep != 0 {
		t.at = start
	}
	from := t.at
	for t.at < len(t.text) && !t.isSep(t.text[t.at]) && !t.isEnd(t.text[t.at]) {
		lax = lax || t.text[t.at] == '"'
		t.at++
	}
	return t.text[from:t.at], lax
}

// quoted reads a cell in quotes; false where the quotes do not match, and then
// nothing was read.
func (t *tokenizer) quoted() (string, bool) {
	start, line := t.at, t.line
	back := func() (string, bool) {
		t.at, t.line = start, line
		return "", false
	}
	doubled := false
	for t.at++; ; t.at++ {
		switch {
		case t.at >= len(t.text) || t.line > line && t.at-start > maxCell:
			t.unclose++
			return back()
		case t.text[t.at] == '\n', t.text[t.at] == '\r' && !strings.HasPrefix(t.text[t.at:], "\r\n"):
			t.line++
		case t.text[t.at] != '"':
		case strings.HasPrefix(t.text[t.at:], `""`):
			doubled = true
			t.at++
		default:
			cell := t.text[start+1 : t.at]
			t.at++
			if t.skipBlanks(); t.at < len(t.text) && !t.isSep(t.text[t.at]) && !t.isEnd(t.text[t.at]) {
				if t.sep != 0 || t.text[t.at-1] != ' ' && t.text[t.at-1] != '\t' {
					return back()
				}
				t.at--
			}
			if doubled {
				cell = strings.ReplaceAll(cell, `""`, `"`)
			}
			return cell, true
		}
	}
}

func withoutEmpty(cells []string) []string {
	out := cells[:0]
	for _, c := range cells {
		if c != "" {
			out = append(out, c)
		}
	}
	return out
}

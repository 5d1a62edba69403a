package house

import (
	"go/scanner"
	"go/token"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"
)

const (
	lineColumns = 120
	tabColumns  = "    " // a tab counts as four
	longText    = 40     // characters of one text from which on it need not be broken (chosen)
	closing     = 15     // columns of what closes the line after such a text: `, async () => {` (chosen)
)

// A line may be longer only where one text that is not to be broken lies across
// the limit or ends the line: a string, a template, a regular expression, a struct tag.
func TestLinesAreShort(t *testing.T) {
	n := 0
	walk(t, func(path string) {
		var texts func(string) []span
		switch {
		case strings.HasPrefix(path, "pwa/app/wasm/"), strings.HasPrefix(path, "pwa/app/made/"): // generated
			return
		case strings.HasSuffix(path, ".go"):
			texts = textsOfGo
		case strings.HasSuffix(path, ".js"):
			texts = textsOfScript
		case strings.HasSuffix(path, ".css"):
			texts = func(string) []span { return nil }
		default:
			return
		}
		n++
		for _, line := range overlong(read(t, path), texts) {
			t.Errorf("%s:%d is longer than %d columns: break it", path, line, lineColumns)
		}
	})
	if n < 400 {
		t.Fatalf("only %d files were looked at; the walk is broken", n)
	}
}

// A span is a text from one byte of a source to another.
type span struct{ from, to int }

// overlong gives the numbers of the lines that should have been broken.
func overlong(source string, texts func(string) []span) (lines []int) {
	var spans []span
	at := 0
	for i, line := range strings.SplitAfter(source, "\n") {
		if columns(strings.TrimRight(line, "\n")) > lineColumns {
			if spans == nil {
				spans = append(texts(source), span{-1, -1})
			}
			if !crossed(source, at, at+len(line), spans) {
				lines = append(lines, i+1)
			}
		}
		at += len(line)
	}
	return lines
}

func columns(s string) int { return utf8.RuneCountInString(strings.ReplaceAll(s, "\t", tabColumns)) }

// crossed says whether a long text lies across the limit of the line from one byte to another.
func crossed(source string, from, to int, spans []span) bool {
	for _, s := range spans {
		a, b := max(s.from, from), min(s.to, to)
		if a >= b || columns(source[a:b]) < longText || columns(source[from:a]) >= lineColumns {
			continue
		}
		if columns(source[from:b]) > lineColumns || columns(strings.TrimRight(source[b:to], "\n")) <= closing {
			return true
		}
	}
	return false
}

func textsOfGo(source string) (spans []span) {
	set := token.NewFileSet()
	file := set.AddFile("", set.Base(), len(source))
	var s scanner.Scanner
	s.Init(file, []byte(source), nil, 0)
	for {
		pos, kind, text := s.Scan()
		if kind == token.EOF {
			return spans
		}
		if kind == token.STRING {
			spans = append(spans, span{file.Offset(pos), file.Offset(pos) + len(text)})
		}
	}
}

// In a script a template reaches from the first back quote of a line to the last.
var scriptText = regexp.MustCompile("`.*`|`.*|\"(?:[^\"\\\\\n]|\\\\.)*\"|/(?:[^/\\\\\n*]|\\\\.)(?:[^/\\\\\n]|\\\\.)*/")

func textsOfScript(source string) (spans []span) {
	at := 0
	for line := range strings.Lines(source) {
		if s := strings.TrimSpace(line); !strings.HasPrefix(s, "//") && !strings.HasPrefix(s, "*") {
			for _, found := range scriptText.FindAllStringIndex(line, -1) {
				spans = append(spans, span{at + found[0], at + found[1]})
			}
		}
		at += len(line)
	}
	return spans
}

func TestALongLineIsSeen(t *testing.T) {
	word := strings.Repeat("w", 100)
	for name, c := range map[string]struct {
		texts  func(string) []span
		source string
		isLong bool
	}{
		"a list":            {textsOfGo, "package p\n\nvar x = f(" + strings.Repeat("a, ", 50) + "a)\n", true},
		"one string across": {textsOfGo, "package p\n\nvar x = f(12345678, \"" + word + "\")\n", false},
		"a string before the limit": {textsOfGo,
			"package p\n\nvar x = f(\"" + word + "\", a, b, c, d, e, f, g, h)\n", true},
		"a comment":       {textsOfGo, "package p\n\n// \"" + word + " and some more words here\"\n", true},
		"tabs count four": {textsOfGo, "package p\n\n" + strings.Repeat("\t", 5) + "// " + word + "\n", true},
		"as long as it may be": {textsOfGo,
			"package p\n\n// " + strings.Repeat("w", lineColumns-3) + "\n", false},
		"a template":                {textsOfScript, "const x = `" + word + "${f(\"a\")}${g(a, b, c)}`;\n", false},
		"a call in a script":        {textsOfScript, "f(" + strings.Repeat("a, ", 50) + "a);\n", true},
		"a back quote in a comment": {textsOfScript, "// `" + word + " and some more words here`\n", true},
	} {
		if got := len(overlong(c.source, c.texts)) > 0; got != c.isLong {
			t.Errorf("%s: overlong is %v, want %v", name, got, c.isLong)
		}
	}
}

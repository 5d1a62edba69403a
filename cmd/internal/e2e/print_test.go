//go:build e2e

package e2e

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/ledongthuc/pdf"
)

// On paper everything that is folded away on the screen is there.
func TestVerdictAndStrobeArePrinted(t *testing.T) {
	p, car := demo(t)
	for _, c := range []struct {
		page  string
		ready string
		want  []string
	}{
		{"verdict", "First choice", []string{"Hartsmere Linnet 1250", "primary spring", "5000", "21.7", "rising",
			"Show the working"}},
		{"strobe", "8.0 to 11.", []string{"Hartsmere Linnet 1250", "8.7", "12.0", "800", "26.0"}},
	} {
		p.open(car + "/" + c.page)
		p.sees(c.ready)
		pages, text := readPDF(t, p.onPaper(chromedp.PaperA4))
		if pages < 1 || len(text) < 300 {
			t.Errorf("%s: %d pages with %d letters", c.page, pages, len(text))
		}
		for _, want := range c.want {
			if !strings.Contains(squeezed(text), squeezed(want)) {
				t.Errorf("%s: %q is not on the paper, which says: %.3000s", c.page, want, text)
			}
		}
	}
}

// squeezed leaves out the spaces: a PDF places words, it does not part them.
func squeezed(text string) string { return strings.ReplaceAll(plain(text), " ", "") }

func readPDF(t *testing.T, file []byte) (pages int, text string) {
	t.Helper()
	read, err := pdf.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	words, err := read.GetPlainText()
	if err != nil {
		t.Fatal(err)
	}
	all, err := io.ReadAll(words)
	if err != nil {
		t.Fatal(err)
	}
	return read.NumPage(), string(all)
}

// onPaper prints the page.
func (p *page) onPaper(size chromedp.PaperSize) []byte {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	paper, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
	if err != nil {
		p.t.Fatal(err)
	}
	return paper
}

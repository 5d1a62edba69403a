//go:build e2e

package e2e

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
)

// A tape for a 150 mm pulley: 30 degrees are π × 150 × 30 / 360 = 39.27 mm
// (geometry), measured in a picture made of the printed page, not in what the
// page says of itself. The right side of zero is measured too.
func TestThePrintedTapeIsAtTrueScale(t *testing.T) {
	if _, err := exec.LookPath("pdftoppm"); err != nil {
		t.Fatal("poppler-utils is not installed; bash .ci/check installs it")
	}
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	car := waitForCar(p)
	p.open(car + "/tape")
	p.rewrites("Diameter where the tape goes", "150")
	for _, c := range []struct {
		rotation string
		isRight  bool // before TDC, to the right of zero
	}{{"clockwise", true}, {"anticlockwise", false}} {
		p.tap("radio", "the crank turns > "+c.rotation)
		p.sees("39.27 mm",
			map[bool]string{true: "on the right of the zero", false: "on the left of the zero"}[c.isRight])
		for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
			t.Run(c.rotation+"/"+name, func(t *testing.T) {
				pdf := p.in(t).onPaper(paper)
				zero, tens := tapeLines(t, pdf)
				far := tens[len(tens)-1] // 50 before TDC
				if !c.isRight {
					far = tens[0]
				}
				perDegree := math.Abs(far-zero) / 50
				if thirty := 30 * perDegree; math.Abs(thirty-39.27) > 0.1 {
					t.Errorf("30 degrees measure %.3f mm", thirty)
				} else {
					t.Logf("30 degrees measure %.3f mm", thirty)
				}
				for i := 1; i < len(tens); i++ {
					if gap := tens[i] - tens[i-1]; math.Abs(gap-39.27/3) > 0.05 {
						t.Errorf("line %d stands %.3f mm from the one before, not 13.09", i, gap)
					}
				}
			})
		}
	}
}

// A rim of 400 mm does not fit one sheet: 60 degrees are 209 mm. Every sheet is
// at true scale (ten degrees are π × 400 × 10 / 360 = 34.91 mm), they share
// what is glued over, and together they hold all seven lines of ten degrees.
func TestATapeOfSeveralSheets(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.tap("button", demoOffer)
	p.open(waitForCar(p) + "/tape")
	p.rewrites("Diameter where the tape goes", "400")
	p.sees("Sheet 2 of 2", "104.72 mm")
	for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		pdf := p.onPaper(paper)
		lines, sheets := 0, 0
		for _, tens := range tensOfSheets(t, pdf, 34.907) {
			sheets++
			lines += len(tens)
			for i := 1; i < len(tens); i++ {
				if gap := tens[i] - tens[i-1]; math.Abs(gap-34.907) > 0.05 {
					t.Errorf("%s, sheet %d: ten degrees measure %.3f mm", name, sheets, gap)
				}
			}
		}
		if sheets != 2 || lines < 7 || lines > 9 {
			t.Errorf("%s: %d sheets with %d lines of ten degrees", name, sheets, lines)
		}
	}
}

// tensOfSheets finds on the printed pages, strip by strip, the lines of every
// ten degrees, gap mm apart, in mm.
func tensOfSheets(t *testing.T, pdf []byte, gap float64) (sheets [][]float64) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "tape.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	for page := 1; page <= 6; page++ {
		width, height, dark := picture(t, file, page)
		var rows [][]float64
		last := 0
		for y := range height {
			middles := evenLines(dark[y*width:(y+1)*width], gap)
			if len(middles) >= 2 {
				rows, last = append(rows, middles), y
			}
			if isEnd := y-last > tapeDPI/4 || y == height-1; isEnd && len(rows) > 0 { // a quarter of an inch without
				if len(rows) >= tapeDPI/10 { // two and a half millimetres: no letter is as tall
					sheets = append(sheets, rows[len(rows)/2])
				}
				rows = nil
			}
		}
	}
	return sheets
}

// evenLines gives the middles of the thin lines a row crosses, without the cut
// edges, when all stand about gap mm apart; else nothing.
func evenLines(row []byte, gap float64) (middles []float64) {
	middles, _ = thinLines(row)
	odd := func(i int) bool { return math.Abs(middles[i+1]-middles[i]-gap) > 1 }
	for len(middles) > 1 && odd(0) {
		middles = middles[1:]
	}
	for len(middles) > 1 && odd(len(middles)-2) {
		middles = middles[:len(middles)-1]
	}
	for i := range len(middles) - 1 {
		if odd(i) {
			return nil
		}
	}
	return middles
}

const tapeDPI = 600

// tapeLines finds the lines of every ten degrees in the picture of the tape,
// in mm, and the zero among them, which is the thickest. It looks along the
// rows of the picture for one that only crosses these lines and both ends.
func tapeLines(t *testing.T, pdf []byte) (zero float64, tens []float64) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "tape.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	for page := 1; page <= 4; page++ {
		width, height, dark := picture(t, file, page)
		var found [][]float64 // rows that fit: the middles of their lines, the zero's place last
		for y := range height {
			if middles, thickest, ok := tapeRow(dark[y*width : (y+1)*width]); ok {
				found = append(found, append(middles, thickest))
			}
		}
		if len(found) < tapeDPI/50 { // half a millimetre of such rows
			continue
		}
		row := found[len(found)/2]
		return row[len(row)-1], row[:len(row)-1]
	}
	t.Fatal("no tape is on the printed pages")
	return 0, nil
}

// thinLines gives the middles, in mm, and the widths, in pixels, of the dark
// lines a row crosses; nothing when one is wider than a line of the tape.
func thinLines(row []byte) (middles []float64, widths []int) {
	for x := 0; x < len(row); x++ {
		if row[x] > 128 {
			continue
		}
		from := x
		for x < len(row) && row[x] <= 128 {
			x++
		}
		if x-from > tapeDPI/20 { // wider than any line
			return nil, nil
		}
		middles = append(middles, (float64(from+x-1)/2+0.5)*25.4/tapeDPI)
		widths = append(widths, x-from)
	}
	return middles, widths
}

// tapeRow takes a row as the tape's when seven lines stand in it at equal
// distances between 10 and 20 mm: ten degrees after TDC to fifty before.
func tapeRow(row []byte) (_ []float64, thickest float64, ok bool) {
	middles, widths := thinLines(row)
	for len(middles) > 7 && middles[1]-middles[0] < 9 { // the cut edges stand nearer than a line
		middles, widths = middles[1:], widths[1:]
	}
	for len(middles) > 7 && middles[len(middles)-1]-middles[len(middles)-2] < 9 {
		middles, widths = middles[:len(middles)-1], widths[:len(widths)-1]
	}
	if len(middles) != 7 || slices.Max(widths) < 2 {
		return nil, 0, false
	}
	for i := 1; i < 7; i++ {
		if gap := middles[i] - middles[i-1]; gap < 10 || gap > 20 || math.Abs(gap-(middles[1]-middles[0])) > 1 {
			return nil, 0, false
		}
	}
	at := slices.Index(widths, slices.Max(widths))
	return middles, middles[at], true
}

// picture makes a picture of one page: its size and one byte a pixel.
func picture(t *testing.T, file string, page int) (width, height int, grey []byte) {
	t.Helper()
	out, err := exec.Command("pdftoppm", "-r", fmt.Sprint(tapeDPI), "-gray", "-f", fmt.Sprint(page), "-l",
		fmt.Sprint(page), file).Output()
	if err != nil || len(out) == 0 {
		return 0, 0, nil // no such page
	}
	r := bufio.NewReader(bytes.NewReader(out))
	var most int
	if _, err := fmt.Fscanf(r, "P5\n%d %d\n%d\n", &width, &height, &most); err != nil {
		t.Fatal(err)
	}
	grey, err = io.ReadAll(r)
	if err != nil || len(grey) != width*height {
		t.Fatalf("page %d: %d bytes for %d by %d: %v", page, len(grey), width, height, err)
	}
	return width, height, grey
}

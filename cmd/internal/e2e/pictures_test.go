//go:build e2e

package e2e

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
)

// go test -tags e2e -run Pictures ./cmd/internal/e2e -pictures draws them anew.
var drawPictures = flag.Bool("pictures", false, "draw the pictures of README.md anew")

const (
	heaviest = 120_000 // bytes of one picture, asked of the product
	// share of full black on white by which a coarse look at the page may differ from the picture before it counts
	// as drawn of another page; two pages of the app differ by 0.1 and more. Chosen
	mostUnlike = 0.05
	tile       = 13 // pixels a side of the coarse look: a line of text. Chosen
)

// The pictures of README.md are of the pages as they are.
func TestThePicturesOfREADME(t *testing.T) {
	p, car := demo(t)
	p.scale = 2
	p.size(390, 844)
	for name, at := range map[string]struct {
		screen
		top string
	}{
		"strobe":  {screen{hash: car + "/strobe", ready: "Engine rpm"}, "main table"},
		"verdict": {screen{hash: car + "/verdict", ready: "What to do about it"}, "main"},
	} {
		p.goes(at.screen)
		eval[bool](p, `(scrollTo(0, 0), document.querySelector("`+at.top+`").scrollIntoView(), true)`)
		now := shot(p)
		file := filepath.Join("..", "..", "..", "testdata", "pictures", name+".png")
		if *drawPictures {
			var drawn bytes.Buffer
			few := image.NewPaletted(now.Bounds(), commonest(now))
			draw.Draw(few, few.Bounds(), now, image.Point{}, draw.Src)
			if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&drawn, few); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(file, drawn.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatalf("%v: draw it with -pictures", err)
		}
		kept, err := png.Decode(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if len(text) > heaviest {
			t.Errorf("%s has %d bytes, at most %d", file, len(text), heaviest)
		}
		unlike := distance(now, kept)
		t.Logf("%s: %d bytes, %v, unlike by %.3f", name, len(text), kept.Bounds().Max, unlike)
		if unlike > mostUnlike {
			t.Errorf("%s shows another page than there is (unlike by %.3f, at most %g): draw it anew with -pictures", file,
				unlike, mostUnlike)
		}
	}
}

func shot(p *page) image.Image {
	p.t.Helper()
	ctx, cancel := p.limited()
	defer cancel()
	text, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	picture, err := png.Decode(bytes.NewReader(text))
	if err != nil {
		p.t.Fatal(err)
	}
	return picture
}

// commonest are the 256 colours that a picture has most of.
func commonest(picture image.Image) color.Palette {
	counts := map[color.RGBA]int{}
	for y := range picture.Bounds().Dy() {
		for x := range picture.Bounds().Dx() {
			counts[color.RGBAModel.Convert(picture.At(x, y)).(color.RGBA)]++
		}
	}
	most := slices.SortedFunc(maps.Keys(counts), func(a, b color.RGBA) int { return counts[b] - counts[a] })
	all := color.Palette{}
	for _, one := range most[:min(256, len(most))] {
		all = append(all, one)
	}
	return all
}

// distance is the mean difference of the grey of the tiles; 1 where the sizes
// differ.
func distance(a, b image.Image) float64 {
	if a.Bounds() != b.Bounds() {
		return 1
	}
	sum, tiles := 0.0, 0.0
	for y := 0; y+tile <= a.Bounds().Dy(); y += tile {
		for x := 0; x+tile <= a.Bounds().Dx(); x += tile {
			sum += math.Abs(grey(a, x, y) - grey(b, x, y))
			tiles++
		}
	}
	return sum / tiles
}

func grey(picture image.Image, left, top int) float64 {
	sum := 0.0
	for y := range tile {
		for x := range tile {
			sum += float64(color.GrayModel.Convert(picture.At(left+x, top+y)).(color.Gray).Y)
		}
	}
	return sum / (255 * tile * tile)
}

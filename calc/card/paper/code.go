package paper

import (
	"fmt"
	"strings"

	"pointsmith/calc/card"
)

// moduleOnPaperMm is the width of one module in print: at 0.4 mm the largest
// symbol still leaves room for the card. Chosen; the app's screen has 0.5 mm.
const moduleOnPaperMm = 0.4

// qrCode draws the link as a QR code, dark on light in every light, with the
// quiet zone around it. Empty where the link is too long for one.
func qrCode(link string) markup {
	symbol, err := card.QR(card.QRIn{Text: link})
	if err != nil {
		return ""
	}
	side := symbol.Size + 2*symbol.QuietZone
	var dark strings.Builder
	for y, line := range symbol.Rows {
		for x := 0; x < len(line); {
			run := len(line[x:]) - len(strings.TrimLeft(line[x:], "1"))
			if run > 0 {
				fmt.Fprintf(&dark, "M%d %dh%dv1h-%dz", x+symbol.QuietZone, y+symbol.QuietZone, run, run)
			}
			x += max(run, 1)
		}
	}
	box := markup(fmt.Sprintf("0 0 %d %d", side, side))
	size := markup(fmt.Sprint(side))
	width := markup(fmt.Sprintf("--on-paper:%.1fmm", moduleOnPaperMm*float64(side)))
	return el("figure", attrs{{"class", "qr"}, {"style", width}},
		el("svg", attrs{{"viewBox", box}, {"role", "img"}, {"aria-label", "QR code of the link to this card"},
			{"shape-rendering", "crispEdges"}},
			void("rect", attrs{{"class", "light"}, {"width", size}, {"height", size}}),
			void("path", attrs{{"class", "dark"}, {"d", markup(dark.String())}})),
		el("figcaption", nil, "This card, for a phone’s camera."))
}

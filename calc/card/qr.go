package card

import (
	"fmt"

	"rsc.io/qr/coding"

	"pointsmith/calc/refuse"
)

// QRIn is a text to be drawn as a QR code.
type QRIn struct {
	Text  string `json:"text" need:"yes" maxLen:"2953" help:"the text, such as the address of the app with a setup link behind it"`
	Level string `json:"level,omitempty" enum:"L|M|Q|H" help:"how much dirt it stands: L 7 %, M 15 %, Q 25 %, H 30 % of the code; L unless said, the coarsest pattern"`
}

// QROut is the pattern. The screen draws it dark on light with a quiet zone.
type QROut struct {
	Rows             []string `json:"rows" help:"one text a row, from the top: 1 is a dark module, 0 a light one"`
	Size             int      `json:"size" unit:"modules" help:"rows and columns"`
	QuietZone        int      `json:"quietZone" unit:"modules" help:"light modules to leave on every side (ISO/IEC 18004)"`
	Version          int      `json:"version" help:"version of the symbol, 1 to 40"`
	Level            string   `json:"level" help:"the level used"`
	LeastSideMm      float64  `json:"leastSideMm" unit:"mm" help:"draw it at least this wide: 0.5 mm a module with the quiet zone, which a phone reads at arm's length (chosen)"`
	TextBytes        int      `json:"textBytes" unit:"bytes" help:"length of the text in UTF-8"`
	MostBytesAtLevel int      `json:"mostBytesAtLevel" unit:"bytes" help:"the longest text this level can hold"`
}

const (
	quietZone  = 4   // ISO/IEC 18004
	moduleMm   = 0.5 // least width of a module on a screen, chosen
	headerBits = 20  // mode and length in front of the bytes, versions 10 and up (ISO/IEC 18004)
)

// QR gives the modules of the smallest QR code (model 2, byte mode) that
// holds the text. Refused: an empty text, and one too long for version 40.
// Source: ISO/IEC 18004; the pattern is made by rsc.io/qr, with mask 0.
func QR(in QRIn) (QROut, error) {
	level := in.Level
	if level == "" {
		level = "L"
	}
	l := map[string]coding.Level{"L": coding.L, "M": coding.M, "Q": coding.Q, "H": coding.H}[level]
	most := coding.Version(coding.MaxVersion).DataBytes(l) - headerBits/8 - 1
	if in.Text == "" || len(in.Text) > most {
		return QROut{}, refuse.Input("text", fmt.Sprintf("has %d bytes", len(in.Text)),
			fmt.Sprintf("1 to %d bytes at level %s", most, level), "send it as a file, or leave out a curve")
	}
	code := coding.String(in.Text)
	v := coding.Version(coding.MinVersion)
	for code.Bits(v) > v.DataBytes(l)*8 {
		v++
	}
	plan, err := coding.NewPlan(v, l, 0)
	if err != nil {
		return QROut{}, err
	}
	symbol, err := plan.Encode(code)
	if err != nil {
		return QROut{}, err
	}
	out := QROut{Size: symbol.Size, QuietZone: quietZone, Version: int(v), Level: level, TextBytes: len(in.Text),
		MostBytesAtLevel: most}
	out.LeastSideMm = moduleMm * float64(out.Size+2*quietZone)
	for y := range symbol.Size {
		out.Rows = append(out.Rows, row(symbol, y))
	}
	return out, nil
}

func row(symbol *coding.Code, y int) string {
	line := make([]byte, symbol.Size)
	for x := range line {
		line[x] = '0'
		if symbol.Black(x, y) {
			line[x] = '1'
		}
	}
	return string(line)
}

package card

import (
	"strings"
	"testing"

	"rsc.io/qr"
)

func TestSmallestCodeThatHoldsTheText(t *testing.T) {
	for _, text := range []string{"https://garage.local:7373/#/open/" + mustLink(t, fullCard(t)),
		"http://192.168.1.20:7373/#/join/abc", "x"} {
		out, err := QR(QRIn{Text: text})
		if err != nil {
			t.Fatal(err)
		}
		want, err := qr.Encode(text, qr.L)
		if err != nil {
			t.Fatal(err)
		}
		if out.Size != want.Size || len(out.Rows) != out.Size {
			t.Fatalf("%d rows of size %d, want %d", len(out.Rows), out.Size, want.Size)
		}
		for y, line := range out.Rows {
			for x := range line {
				if (line[x] == '1') != want.Black(x, y) {
					t.Fatalf("module %d, %d is %c", x, y, line[x])
				}
			}
		}
	}
}

// TestCapacity: the most bytes a version 40 symbol holds (ISO/IEC 18004,
// table of capacities): 2953, 2331, 1663, 1273.
func TestCapacity(t *testing.T) {
	for level, most := range map[string]int{"L": 2953, "M": 2331, "Q": 1663, "H": 1273} {
		out, err := QR(QRIn{Text: strings.Repeat("a", most), Level: level})
		if err != nil || out.Version != 40 || out.MostBytesAtLevel != most {
			t.Errorf("level %s: %d bytes give version %d, most %d (%v)", level, most, out.Version,
				out.MostBytesAtLevel, err)
		}
		if _, err := QR(QRIn{Text: strings.Repeat("a", most+1), Level: level}); err == nil {
			t.Errorf("level %s takes %d bytes", level, most+1)
		}
	}
	if _, err := QR(QRIn{}); err == nil {
		t.Error("a code of nothing was drawn")
	}
}

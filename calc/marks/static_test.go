package marks

import (
	"strings"
	"testing"
)

// TestStaticAgainstTheBook: book 8, with and without a tolerance of 1; a lamp
// is read to a degree, so a degree passes whatever the book prints.
func TestStaticAgainstTheBook(t *testing.T) {
	for _, c := range []struct {
		found, tolerance float64
		verdict, says    string
	}{
		{8, 1, "pass", ""}, {7, 1, "pass", ""}, {9, 1, "pass", ""}, {9.4, 1, "watch", "0.4 crank degrees too early"},
		{10, 1, "watch", "a test lamp reads to about a degree"},
		{10.1, 1, "fail", "WITH the rotor"}, {11, 1, "fail", "2.0 crank degrees too early"},
		{5.9, 1, "fail", "AGAINST the rotor"}, {10, 2, "pass", ""}, {10.5, 2, "watch", "0.5"}, {11.1, 2, "fail", "1.1"},
		{-8, 1, "fail", "15.0 crank degrees too late"},
		{8, 0, "pass", ""}, {8.5, 0, "pass", ""}, {9, 0, "pass", ""}, {7, 0, "pass", ""}, {9.5, 0, "watch", "1.5"},
		{10, 0, "watch", "2.0 crank degrees too early"}, {10.5, 0, "fail", "2.5 crank degrees too early"},
	} {
		out, err := Static(StaticIn{FoundCrankDeg: c.found, BookCrankDeg: 8, BookToleranceCrankDeg: c.tolerance})
		if err != nil || out.Verdict != c.verdict || !strings.Contains(out.Do, c.says) ||
			(c.says == "") != (out.Do == "") {
			t.Errorf("%g against 8 ± %g: %+v %v, want %s (%s)", c.found, c.tolerance, out, err, c.verdict, c.says)
		}
	}
	fine := 0.1
	if out, _ := Static(StaticIn{FoundCrankDeg: 9.4, BookCrankDeg: 8, BookToleranceCrankDeg: 1,
		ReadingErrorCrankDeg: &fine}); out.Verdict != "fail" || !strings.Contains(strings.Join(out.Sources, " "),
		"±0.1 crank degrees: as stated") {
		t.Errorf("a stated error is not taken: %+v", out)
	}
}

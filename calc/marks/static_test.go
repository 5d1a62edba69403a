package marks

import (
	"strings"
	"testing"
)

// TestStaticAgainstTheBook: book 8, with and without a tolerance of 1; a lamp
// is read to half a degree.
func TestStaticAgainstTheBook(t *testing.T) {
	for _, c := range []struct {
		found, tolerance float64
		verdict, says    string
	}{
		{8, 1, "pass", ""}, {7, 1, "pass", ""}, {9, 1, "pass", ""}, {9.4, 1, "watch", "0.4 crank degrees too early"}, {9.5, 1, "watch", "within what a lamp"},
		{9.6, 1, "fail", "WITH the rotor"}, {10, 1, "fail", "1.0 crank degrees too early"}, {6.4, 1, "fail", "AGAINST the rotor"}, {-8, 1, "fail", "15.0 crank degrees too late"},
		{8, 0, "pass", ""}, {8.5, 0, "watch", "0.5"}, {10, 0, "fail", "2.0 crank degrees too early"},
	} {
		out, err := Static(StaticIn{FoundCrankDeg: c.found, BookCrankDeg: 8, BookToleranceCrankDeg: c.tolerance})
		if err != nil || out.Verdict != c.verdict || !strings.Contains(out.Do, c.says) || (c.says == "") != (out.Do == "") {
			t.Errorf("%g against 8 ± %g: %+v %v, want %s (%s)", c.found, c.tolerance, out, err, c.verdict, c.says)
		}
	}
	fine := 0.1
	if out, _ := Static(StaticIn{FoundCrankDeg: 9.4, BookCrankDeg: 8, BookToleranceCrankDeg: 1, ReadingErrorCrankDeg: &fine}); out.Verdict != "fail" || !strings.Contains(strings.Join(out.Sources, " "), "±0.1 crank degrees: as stated") {
		t.Errorf("a stated error is not taken: %+v", out)
	}
}

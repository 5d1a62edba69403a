package work

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// What may be written, as a pattern: read by another hand than the reader.
var instant = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2}))?$`)

// Times are read as the standard library reads them, and nothing else is.
func TestTimesAreReadAsTheLibraryReadsThem(t *testing.T) {
	first, _ := minutesOf("at", "1970-01-01")
	rapid.Check(t, func(t *rapid.T) {
		moment := time.Unix(rapid.Int64Range(-60_000_000_000, 200_000_000_000).Draw(t, "seconds"), 0).
			In(time.FixedZone("", 60*rapid.IntRange(-14*60, 14*60).Draw(t, "minutes east")))
		got, bad := minutesOf("at", moment.Format(time.RFC3339))
		if want := first + float64(moment.Unix())/60; bad != nil || got < want-1e-6 || got > want+1e-6 {
			t.Fatalf("%s is minute %v, not %v (%v)", moment.Format(time.RFC3339), got, want, bad)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.SampledFrom([]string{"2024-05-18", "2024-05-18T09:30Z", "2024-05-18T09:30:00.25Z",
			"2024-05-18T09:30:00+01:00"}).Draw(t, "text")
		at := rapid.IntRange(0, len(text)).Draw(t, "at")
		text = text[:at] + rapid.SampledFrom([]string{"", "1", "-", ":", "T", "Z", ".", "+", " "}).Draw(t, "more") +
			strings.TrimPrefix(text[at:], rapid.SampledFrom([]string{"", "0", "-", "2", "T"}).Draw(t, "less"))
		_, bad := minutesOf("at", text)
		isTime := instant.MatchString(text) // the library lets some through that are none, as an hour of one digit
		if _, err := time.Parse(time.RFC3339, text); isTime && err == nil && bad != nil {
			t.Fatalf("%q is refused: %v", text, bad)
		}
		if !isTime && bad == nil {
			t.Fatalf("%q is read", text)
		}
	})
}

package figures

import (
	"slices"
	"strconv"
	"strings"
	"testing"
)

func read(t testing.TB, text string, hints Hints) ReadOut {
	t.Helper()
	out, err := Read(ReadIn{Text: text, Hints: hints})
	if err != nil {
		t.Fatalf("%.80q: %v", text, err)
	}
	return out
}

func askIDs(out ReadOut) (ids []string) {
	for _, a := range out.Asks {
		ids = append(ids, a.ID)
	}
	return ids
}

func sameSet(a, b []string) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// rowTexts writes rows as "rpm min..max" or "rpm deg", and the direction.
func rowTexts(rows []Row) (out []string) {
	say := func(x *float64) string {
		if x == nil {
			return ""
		}
		return strconv.FormatFloat(*x, 'g', -1, 64)
	}
	for _, r := range rows {
		text := say(&r.RPM) + " "
		if r.Deg != nil {
			text += say(r.Deg)
		} else {
			text += say(r.MinDeg) + ".." + say(r.MaxDeg)
		}
		out = append(out, strings.TrimSpace(text+" "+r.Direction))
	}
	return out
}

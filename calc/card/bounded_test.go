package card

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"io"
	"runtime"
	"strings"
	"testing"
)

// pressed gives size bytes of nothing, deflated: about a thousandth of it.
// After a flush each further block of nothing deflates to the same bytes, so
// one is made and repeated.
func pressed(t *testing.T, size int) []byte {
	t.Helper()
	var body bytes.Buffer
	w, err := flate.NewWriterDict(&body, flate.BestCompression, []byte(dictionary1))
	if err != nil {
		t.Fatal(err)
	}
	block := make([]byte, 1<<20)
	add := func() []byte {
		from := body.Len()
		if _, err := w.Write(block); err != nil || w.Flush() != nil {
			t.Fatal(err)
		}
		return body.Bytes()[from:]
	}
	add()
	more := bytes.Clone(add())
	body.Write(bytes.Repeat(more, size>>20-2))
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return body.Bytes()
}

// TestThePressedOneIsReal: what the bombs below would inflate to, counted.
func TestThePressedOneIsReal(t *testing.T) {
	n, err := io.Copy(io.Discard, flate.NewReaderDict(bytes.NewReader(pressed(t, 1<<30)), []byte(dictionary1)))
	if err != nil || n != 1<<30 {
		t.Errorf("it inflates to %d bytes, %v", n, err)
	}
}

// sealAnyway wraps a body as wrap does, whatever its size.
func sealAnyway(body []byte) string {
	out := append([]byte{newest, byte(len(body) >> 8), byte(len(body)), 0, 0, 0, 0, 0}, body...)
	out[3] = headerCheck(out)
	return base64.RawURLEncoding.EncodeToString(out)
}

// TestAMillionCharactersStayUnread: a fragment of about 1 MB that would
// inflate to 1 GB is refused in under 50 MB of memory, and so is the largest
// one whose length alone does not give it away.
func TestAMillionCharactersStayUnread(t *testing.T) {
	big := sealAnyway(pressed(t, 1<<30))
	if len(big) < 1<<20 {
		t.Fatalf("the fragment has only %d characters", len(big))
	}
	small, err := wrap(newest, pressed(t, 11<<20))
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ fragment, says string }{"1 MB to 1 GB": {big, "at most 16000"},
		"16 kB to 11 MB": {small, "far more than a setup card"}} {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		_, err := Open(OpenIn{c.fragment})
		runtime.ReadMemStats(&after)
		used := after.TotalAlloc - before.TotalAlloc
		t.Logf("%s: %d characters refused with %d kB allocated", name, len(c.fragment), used>>10)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
		if used > 50<<20 {
			t.Errorf("%s took %d MB", name, used>>20)
		}
	}
}

func FuzzOpen(f *testing.F) {
	for _, name := range []string{"least", "four", "full-six"} {
		f.Add(mustLink(f, readCard(f, name)))
	}
	f.Add("")
	f.Add("AQAA")
	f.Fuzz(func(t *testing.T, fragment string) {
		out, err := Open(OpenIn{fragment})
		if err == nil {
			sameAgain(t, out.Card)
		}
	})
}

// FuzzPayload goes behind the checksum, which chance would hardly pass.
func FuzzPayload(f *testing.F) {
	for _, name := range []string{"least", "four", "full-six"} {
		payload, err := readCard(f, name).payload()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(payload)
	}
	f.Fuzz(func(t *testing.T, payload []byte) {
		fragment, err := seal(1, payload)
		if err != nil {
			return
		}
		out, err := Open(OpenIn{fragment})
		if err != nil {
			return
		}
		again := mustLink(t, out.Card)
		if again != fragment {
			t.Fatalf("%q opens and is written again as %q", fragment, again)
		}
	})
}

// FuzzBody hands any bytes to the inflating and reading behind the envelope.
func FuzzBody(f *testing.F) {
	for _, name := range []string{"least", "four"} {
		_, body, bad := unwrap(mustLink(f, readCard(f, name)))
		if bad != nil {
			f.Fatal(bad)
		}
		f.Add(body)
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		fragment, err := wrap(newest, body)
		if err != nil {
			return
		}
		out, err := Open(OpenIn{fragment})
		if err == nil {
			sameAgain(t, out.Card)
		}
	})
}

func sameAgain(t *testing.T, c Card) {
	t.Helper()
	again := mustLink(t, c)
	back, err := Open(OpenIn{again})
	if err != nil || mustLink(t, back.Card) != again {
		t.Fatalf("a card that opened does not come back the same (%v): %+v", err, c)
	}
}

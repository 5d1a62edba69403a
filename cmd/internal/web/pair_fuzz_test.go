package web

import (
	"testing"
	"time"
)

// FuzzPair: whatever is sent instead of a code and a name, nobody is let in,
// nothing breaks, and the answer is whole.
func FuzzPair(f *testing.F) {
	for _, seed := range []string{
		`{"code":"ABCD-2345","name":"Phone"}`, `{"code":"","name":""}`, `{"code":null,"name":1}`, `[]`, `{`, ``,
		`{"code":"\u0000\u202e","name":"\u202egnol"}`,
		`{"code":"ABCD2345ABCD2345","name":"x","owner":true}`, `{"code":"a","code":"b","name":"x"}`,
	} {
		f.Add([]byte(seed))
	}
	at := newClock()
	s := newSiteAt(f, newSite(f).log, at.now)
	makeCode(f, s)
	f.Fuzz(func(t *testing.T, body []byte) {
		at.turn(time.Hour) // also past the code's end: none is open
		w := ask(s, "POST", "/api/v1/pair", string(body), from(phone))
		if w.Code < 400 || w.Code >= 500 || len(w.Result().Cookies()) > 0 {
			t.Fatalf("%q: %d %s", body, w.Code, w.Body)
		}
		wantProblem(t, w, w.Code)
	})
}

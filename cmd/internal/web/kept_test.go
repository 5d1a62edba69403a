package web

import (
	"bytes"
	"fmt"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pointsmith/cmd/internal/shape"
	"pointsmith/store"
)

// twoMeet makes a conflict and returns the copy and what is current.
func twoMeet(t *testing.T, s *Site) (store.Copy, store.Document) {
	t.Helper()
	ask(s, "PUT", carPath, `{"base":"","changedAt":"2026-05-01T12:05:00Z","device":"Ann's phone","body":{"name":"Linnet","facts":{"idle":{"value":"850"}}}}`)
	if a := wantJSON[store.Answer](t, ask(s, "PUT", carPath, putAt("", 9, `{"name":"Finch"}`))); !a.Kept ||
		a.Document == nil {
		t.Fatalf("%+v", a)
	}
	list := wantJSON[keptList](t, ask(s, "GET", "/api/v1/kept", ""))
	if len(list.Copies) != 1 || list.Copies[0].Name != "Linnet (from Ann's phone, 2026-05-01)" ||
		string(list.Copies[0].Body) != "{}" {
		t.Fatalf("%+v", list)
	}
	return list.Copies[0], wantJSON[store.Document](t, ask(s, "GET", carPath, ""))
}

func TestKeptCopyIsShownAndChosen(t *testing.T) {
	s := newSite(t)
	k, current := twoMeet(t, s)
	path := carPath + "/kept/" + k.Revision
	if got := wantJSON[store.Copy](t,
		ask(s, "GET", path, "")); string(got.Body) != `{"name":"Linnet","facts":{"idle":{"value":"850"}}}` {
		t.Errorf("%s", got.Body)
	}
	if f := wantJSON[store.Feed](t, ask(s, "GET", "/api/v1/garage", "")); f.Kept != 1 {
		t.Errorf("the feed counts %d", f.Kept)
	}
	wantProblem(t, ask(s, "POST", path, `{"take":"kept","current":"0123"}`), 409, "look at both versions again")
	wantProblem(t, ask(s, "POST", path, `{"take":"all","current":"0123"}`), 422, "kept or current or both")
	wantProblem(t, ask(s, "POST", path, `{"take":"kept"}`), 422, "current")
	wantProblem(t, ask(s, "POST", carPath+"/kept/0123", fmt.Sprintf(`{"take":"kept","current":%q}`, current.Revision)),
		404)
	wantProblem(t, ask(s, "GET", carPath+"/kept/0123", ""), 404)
	both := fmt.Sprintf(`{"take":"both","current":%q,"newId":"copy0000000000001"}`, current.Revision)
	chosen := wantJSON[store.Chosen](t, ask(s, "POST", path, both))
	if chosen.New == nil || !strings.Contains(string(chosen.New.Body), "Linnet (from Ann's phone, 2026-05-01)") {
		t.Errorf("%+v", chosen)
	}
	if again := wantJSON[store.Chosen](t, ask(s, "POST", path, both)); again.Cursor != chosen.Cursor {
		t.Errorf("again: %+v", again)
	}
	wantProblem(t, ask(s, "POST", path, fmt.Sprintf(`{"take":"kept","current":%q}`, current.Revision)), 409,
		"chosen already")
	if list := wantJSON[keptList](t, ask(s, "GET", "/api/v1/kept", "")); len(list.Copies) != 0 {
		t.Errorf("%+v", list)
	}
}

func TestUnionThatAPhoneCouldNotSendBackIsNotMade(t *testing.T) {
	s := newSite(t)
	facts := func(prefix string) string {
		var all []string
		for n := range 150 { // a car may have 200
			all = append(all, fmt.Sprintf(`"%s%d":{"value":"1"}`, prefix, n))
		}
		return `{"name":"A","facts":{` + strings.Join(all, ",") + `}}`
	}
	ask(s, "PUT", carPath, putAt("", 1, facts("a")))
	if a := wantJSON[store.Answer](t, ask(s, "PUT", carPath, putAt("", 2, facts("b")))); !a.Kept {
		t.Errorf("%+v", a)
	}
	current := wantJSON[store.Document](t, ask(s, "GET", carPath, ""))
	if err := shape.Check("car", current.Body); err != nil {
		t.Error(err)
	}
}

// What the whole garage goes in and out by is for this machine alone, and a
// backup is a whole garage file.
func TestWholeGarageGoesOutOnThisMachineOnly(t *testing.T) {
	s := newSite(t)
	twoMeet(t, s)
	path := filepath.Join(t.TempDir(), "garage.db")
	w := ask(s, "GET", "/api/v1/backup", "")
	if w.Code != 200 || w.Header().Get("Content-Length") != fmt.Sprint(w.Body.Len()) {
		t.Fatalf("%d %v", w.Code, w.Header())
	}
	if err := os.WriteFile(path, w.Body.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if report, err := store.Inspect(path); err != nil || report.Documents["car"] != 1 || report.Kept != 1 {
		t.Errorf("%+v %v", report, err)
	}
	export := ask(s, "GET", "/api/v1/export", "").Body.String()
	other := newSite(t)
	if sum := wantJSON[store.Imported](t, ask(other, "POST", "/api/v1/import", export)); sum.New != 1 || sum.Kept != 1 {
		t.Errorf("%+v", sum)
	}
	if again := ask(other, "GET", "/api/v1/export", "").Body.String(); afterMade(again) != afterMade(export) {
		t.Errorf("exported\n%s\nand from there\n%s", export, again)
	}
	for method, path := range map[string]string{"GET ": "/api/v1/backup", "GET": "/api/v1/export",
		"POST": "/api/v1/import"} {
		method = strings.TrimSpace(method)
		if w := ask(s, method, path, export, from("192.168.1.9:5000")); w.Code != 401 && w.Code != 403 {
			t.Errorf("%s %s from elsewhere: %d", method, path, w.Code)
		}
		if w := ask(s, method, path, export, header("X-Forwarded-For", "192.168.1.9")); w.Code != 401 && w.Code != 403 {
			t.Errorf("%s %s through a proxy: %d", method, path, w.Code)
		}
	}
}

func afterMade(export string) string {
	_, rest, _ := strings.Cut(export, `"documents"`)
	return rest
}

func TestImportIsRefusedAtTheGate(t *testing.T) {
	s := newSite(t)
	file := func(documents string) string {
		return `{"format":"pointsmith garage 1","made":"2026-05-02T10:00:00Z","documents":[` + documents + `]}`
	}
	good := `{"kind":"car","id":"aaaaaaaaaaaaaaaa","changedAt":"2026-05-01T12:00:00Z","deleted":false,"body":{"name":"A"}}`
	for name, c := range map[string]struct {
		body, word string
		status     int
	}{
		"another format": {strings.Replace(file(good), "garage 1", "garage 9", 1), "newer Pointsmith", 422},
		"no documents":   {`{"format":"pointsmith garage 1"}`, "documents", 422},
		"unknown field": {strings.Replace(file(good), `"deleted"`, `"wheels":4,"deleted"`, 1),
			"documents[0].wheels", 422},
		"odd kind": {file(good + "," + strings.Replace(good, `"car"`, `"lorry"`, 1)), "documents[1].kind", 422},
		"odd id":   {file(strings.Replace(good, "aaaaaaaaaaaaaaaa", "A", 1)), "documents[0].id", 422},
		"odd time": {file(strings.Replace(good, "2026-05-01T12:00:00Z", "noon", 1)),
			"documents[0].changedAt", 422},
		"removed, empty": {file(strings.Replace(good, `"deleted":false,"body":{"name":"A"}`,
			`"deleted":false,"body":{}`, 1)), "documents[0].body.name", 422},
		"odd revision": {strings.Replace(file(good), `]}`, `],"kept":[`+strings.Replace(good, `"deleted":false`,
			`"device":"","revision":"../x"`, 1)+`]}`, 1), "kept[0].revision", 422},
		"copy of nothing": {strings.Replace(file(good), `]}`,
			`],"kept":[`+strings.Replace(good, `"deleted":false,"body":{"name":"A"}`,
				`"deleted":true,"revision":"a","body":{}`, 1)+`]}`, 1), "kept[0].body.name", 422},
		"markup in a name": {file(strings.Replace(good, `"A"`, `"<b>"`, 1)), "documents[0].body.name", 422},
		"cut":              {file(good)[:80], "JSON", 400},
		"too large":        {strings.Repeat(" ", MaxGarageFile+1), "67108864", 413},
	} {
		t.Run(name, func(t *testing.T) { wantProblem(t, ask(s, "POST", "/api/v1/import", c.body), c.status, c.word) })
	}
	if n, err := s.store.Count(); err != nil || n != 0 {
		t.Errorf("%d documents were taken in, %v", n, err)
	}
}

// A server's clock that was not set is no fault of the file: it is taken in,
// and what came so is counted.
func TestImportTakesTimesThatCannotBeTrue(t *testing.T) {
	s := newSite(t)
	file := `{"format":"pointsmith garage 1","made":"1970-01-01T00:00:00Z","documents":[{"kind":"car","id":"aaaaaaaaaaaaaaaa","changedAt":"1970-01-01T00:00:00Z","deleted":false,"body":{"name":"A"}}]}`
	if sum := wantJSON[store.Imported](t, ask(s, "POST", "/api/v1/import", file)); sum.New != 1 || sum.Undated != 1 {
		t.Errorf("%+v", sum)
	}
}

// FuzzReadGarageFile: whatever comes as a file, the gate refuses it, or what
// it lets through can be taken in, exported, and taken in elsewhere with the
// same outcome.
func FuzzReadGarageFile(f *testing.F) {
	f.Add([]byte(`{"format":"pointsmith garage 1","made":"","documents":[]}`))
	f.Add([]byte(`{"format":"pointsmith garage 1","made":"2026-05-02T10:00:00Z","documents":[{"kind":"car","id":"aaaaaaaaaaaaaaaa","changedAt":"2026-05-01T12:00:00Z","deleted":true,"body":{"name":"A","facts":{"a":{"value":"<"}}}}],` +
		`"kept":[{"kind":"car","id":"aaaaaaaaaaaaaaaa","changedAt":"2026-05-01T12:00:00Z","deleted":false,"body":{"name":"B"},"revision":"r","device":"d"}]}`))
	f.Add([]byte(`{"format":"pointsmith garage 1","documents":[{"kind":"car","id":"bbbbbbbbbbbbbbbb","changedAt":"2026-05-01T12:00:00Z","deleted":true,"body":{}}],` +
		`"kept":[{"kind":"car","id":"bbbbbbbbbbbbbbbb","changedAt":"2026-05-01T12:00:00Z","body":{"name":"B"},"revision":"r"}]}`))
	f.Add([]byte(`{"format":"pointsmith garage 1","documents":[{"kind":"visit","id":"aaaaaaaaaaaaaaaa","changedAt":"2026-05-01T12:00:00Z","body":{"sets":[{"id":"s","readings":[{"id":"r","rpm":"1","deg":"2"}]}]}}]}`))
	s := newSite(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		file, err := ReadGarageFile(text)
		if err != nil {
			if err.Error() == "" || strings.Contains(err.Error(), "\n") {
				t.Fatalf("refused with %q", err)
			}
			return
		}
		if _, err := s.store.Import(file.Documents, file.Copies, noonHere); err != nil {
			return // no room for another copy
		}
		var out bytes.Buffer
		if _, err := WriteGarageFile(&out, s.store, noonHere); err != nil {
			t.Fatal(err)
		}
		if _, err := ReadGarageFile(out.Bytes()); err != nil {
			t.Fatalf("exported what the gate refuses: %v", err)
		}
	})
}

// FuzzGarageBodies sends anything to every address of the garage that takes a
// body: the answer is a document or a whole problem, never a fault of ours.
func FuzzGarageBodies(f *testing.F) {
	f.Add(uint8(0), []byte(putCar(`{"name":"A"}`)))
	f.Add(uint8(1), []byte(putCar(`{"title":"t","sets":[{"id":"s","readings":[{"id":"r","rpm":"1"}]}]}`)))
	f.Add(uint8(2), []byte(putCar(`{"name":"","sheet":{"rows":[{"rpm":"1"}]}}`)))
	f.Add(uint8(3), []byte(`{"base":"","changedAt":"2026-05-01T12:00:00Z","device":"d"}`))
	f.Add(uint8(4), []byte(`{"take":"both","current":"x","newId":"copy0000000000001"}`))
	f.Add(uint8(5), []byte(`{"format":"pointsmith garage 1","documents":[]}`))
	s := newSite(f)
	targets := []struct{ method, path string }{
		{"PUT", carPath}, {"PUT", "/api/v1/garage/visit/" + carID}, {"PUT", "/api/v1/garage/distributor/" + carID},
		{"DELETE", carPath}, {"POST", ""}, {"POST", "/api/v1/import"},
	}
	f.Fuzz(func(t *testing.T, which uint8, body []byte) {
		target := targets[int(which)%len(targets)]
		if target.path == "" { // a copy that is there, when one is
			target.path = carPath + "/kept/0123"
			if kept, err := s.store.AllKept(); err == nil && len(kept) > 0 {
				target.path = "/api/v1/garage/" + kept[0].Kind + "/" + kept[0].ID + "/kept/" + kept[0].Revision
			}
		}
		w := ask(s, target.method, target.path, string(body))
		if w.Code != 200 {
			wantWholeProblem(t, w)
		}
	})
}

func wantWholeProblem(t *testing.T, w *httptest.ResponseRecorder) {
	t.Helper()
	if w.Code < 400 || w.Code >= 500 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	wantProblem(t, w, w.Code)
}

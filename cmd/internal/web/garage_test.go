package web

import (
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
	"testing"
	"time"

	"pointsmith/store"
)

const (
	carID   = "abcdefgh01234567"
	carPath = "/api/v1/garage/car/" + carID
)

func putCar(body string) string { return putAt("", 0, body) }

func putAt(base string, minute int, body string) string {
	return fmt.Sprintf(`{"base":%q,"changedAt":"2026-05-01T12:%02d:00.250Z","body":%s}`, base, minute, body)
}

func TestDocumentsOfEachKindComeBackAsTyped(t *testing.T) {
	s := newSite(t)
	for kind, body := range map[string]string{
		"car": `{"name":"Linnet & Söhne","owner":"","distributorId":"","facts":{"idle":{"value":"8,5","unit":"°","source":"","note":"a < b"}},"demo":true}`,
		"distributor": `{"name":"","typeNumber":"4-17","facts":{},"sheetSource":"p. 12","sheet":{"angleUnit":"distributor","speedUnit":"","base":"excluded","baseCrankDeg":"8",` +
			`"baseSide":"before","baseToleranceCrankDeg":"","noAdvanceBelow":"300","driveRatio":"","listedWhile":"either","limitDistDeg":"","rows":[{"rpm":"1 000","min":"9½","max":""}]}}`,
		"visit": `{"carId":"abcdefgh01234567","distributorId":"","date":"2026-05-01","title":"first look","notes":"line\nline","sets":[{"id":"abcdefgh0","place":"bench","angleUnit":"distributor",` +
			`"speedUnit":"distributor","base":"excluded","vacuum":"off","readingErrorCrankDeg":"","staticCrankDeg":"","staticSide":"before","readings":` +
			`[{"id":"r1","rpm":"500","deg":"2","side":"before","direction":"rising","at":"2026-05-01T12:00:00Z","removed":true}],"removed":true}],"facts":{"check.B1":{"value":"2½","unit":"thou","source":"measured","note":""}},` +
			`"events":[{"id":"e1","at":"2026-05-01T12:00:00Z","step":"static","verdict":"watch","what":"9½ before TDC","changed":"","undone":["vacuum-pipe"],"restored":[],"odometer":"41 200"}]}`,
	} {
		path := "/api/v1/garage/" + kind + "/" + carID
		answer := wantJSON[store.Answer](t, ask(s, "PUT", path, putCar(body)))
		w := ask(s, "GET", path, "")
		got := wantJSON[store.Document](t, w)
		if string(got.Body) != body || got.Kind != kind || got.ID != carID || got.Revision != answer.Revision ||
			got.Deleted {
			t.Errorf("%s came back as %s", kind, w.Body)
		}
		if !strings.Contains(w.Body.String(), `"changedAt":"2026-05-01T12:00:00.25Z"`) {
			t.Errorf("time came back in %s", w.Body)
		}
	}
	list := wantJSON[store.Feed](t, ask(s, "GET", "/api/v1/garage", ""))
	if list.Cursor != 3 || len(list.Documents) != 3 {
		t.Errorf("list %+v", list)
	}
	if list := wantJSON[store.Feed](t, ask(s, "GET", "/api/v1/garage?after=2", "")); len(list.Documents) != 1 {
		t.Errorf("after 2: %+v", list)
	}
	if w := ask(s, "GET", "/api/v1/garage?after=3", ""); !strings.Contains(w.Body.String(), `"documents":[]`) {
		t.Errorf("nothing new: %s", w.Body)
	}
}

func TestPutTwiceAndFromAnOldBase(t *testing.T) {
	s := newSite(t)
	a := wantJSON[store.Answer](t, ask(s, "PUT", carPath, putAt("", 0, `{"name":"A"}`)))
	if again := wantJSON[store.Answer](t,
		ask(s, "PUT", carPath, putAt("", 0, `{"name":"A"}`))); !reflect.DeepEqual(again, a) {
		t.Errorf("answered %+v, then %+v", a, again)
	}
	b := wantJSON[store.Answer](t, ask(s, "PUT", carPath, putAt(a.Revision, 9, `{"name":"B"}`)))
	c := wantJSON[store.Answer](t, ask(s, "PUT", carPath, putAt(a.Revision, 5, `{"name":"C"}`)))
	if b.Kept || !c.Kept {
		t.Errorf("answers %+v, %+v", b, c)
	}
	if d := wantJSON[store.Document](t, ask(s, "GET", carPath, "")); string(d.Body) != `{"name":"B"}` {
		t.Errorf("current is %s", d.Body)
	}
	kept := wantJSON[keptList](t, ask(s, "GET", carPath+"/kept", ""))
	if len(kept.Copies) != 1 || string(kept.Copies[0].Body) != `{"name":"C"}` {
		t.Errorf("kept %+v", kept)
	}
}

func TestDeletedDocumentsStayInTheList(t *testing.T) {
	s := newSite(t)
	a := wantJSON[store.Answer](t, ask(s, "PUT", carPath, putCar(`{"name":"A"}`)))
	removal := fmt.Sprintf(`{"base":%q,"changedAt":"2026-05-01T13:00:00Z"}`, a.Revision)
	b := wantJSON[store.Answer](t, ask(s, "DELETE", carPath, removal))
	list := wantJSON[store.Feed](t, ask(s, "GET", fmt.Sprintf("/api/v1/garage?after=%d", a.Cursor), ""))
	if b.Kept {
		t.Error("the deleted version had been seen, and was kept all the same")
	}
	if len(list.Documents) != 1 || !list.Documents[0].Deleted || list.Documents[0].Revision != b.Revision ||
		string(list.Documents[0].Body) != "{}" {
		t.Errorf("list %+v", list)
	}
}

func TestGarageRefusals(t *testing.T) {
	s := newSite(t)
	longName, _ := json.Marshal(strings.Repeat("n", 10_000))
	tooLarge := `{"carId":"","notes":"` + strings.Repeat("x", 1<<20) + `"}`
	for name, c := range map[string]struct {
		path, body string
		status     int
		words      []string
	}{
		"name of 10,000": {carPath, putCar(`{"name":` + string(longName) + `}`), 422,
			[]string{`"field":"body.name"`, "80 characters", "10000"}},
		"name with markup": {carPath, putCar(`{"name":"<img src=x>"}`), 422,
			[]string{`"field":"body.name"`, "'<'"}},
		"name with control": {carPath, putCar(`{"name":"a\u0007b"}`), 422,
			[]string{`"field":"body.name"`, "control"}},
		"blank name": {carPath, putCar(`{"name":"  "}`), 422, []string{`"field":"body.name"`}},
		"no name":    {carPath, putCar(`{}`), 422, []string{`"field":"body.name"`}},
		"markup in a distributor": {"/api/v1/garage/distributor/" + carID, putCar(`{"name":"a>b"}`), 422,
			[]string{`"field":"body.name"`, "'>'"}},
		"unknown field": {carPath, putCar(`{"name":"a","wheels":4}`), 422, []string{`"field":"body.wheels"`}},
		"unknown around it": {carPath,
			`{"base":"","changedAt":"2026-05-01T12:00:00Z","body":{"name":"a"},"force":true}`, 422,
			[]string{`"field":"force"`}},
		"number for text": {"/api/v1/garage/visit/" + carID,
			putCar(`{"sets":[{"id":"a","readings":[{"id":"b","rpm":850}]}]}`), 422,
			[]string{`"field":"body.sets[0].readings[0].rpm"`}},
		"odd source": {carPath, putCar(`{"name":"a","facts":{"idle":{"source":"hearsay"}}}`), 422,
			[]string{`body.facts.idle.source`, "book"}},
		"NaN":    {carPath, putCar(`{"name":NaN}`), 400, []string{"NaN"}},
		"broken": {carPath, `{"base":`, 400, nil},
		"no body": {carPath, `{"base":"","changedAt":"2026-05-01T12:00:00Z"}`, 422,
			[]string{`"field":"body"`}},
		"body is null":   {carPath, putCar(`null`), 422, []string{`"field":"body"`}},
		"body is a list": {carPath, putCar(`[]`), 422, []string{`"field":"body"`}},
		"body too large": {"/api/v1/garage/visit/" + carID, putCar(tooLarge), 422, []string{`body.notes`}},
		"over the limit": {"/api/v1/garage/visit/" + carID, putCar(tooLarge + strings.Repeat(" ", 8<<10)), 413,
			[]string{"1048576 bytes"}},
		"no time": {carPath, `{"base":"","body":{"name":"a"}}`, 422, []string{`"field":"changedAt"`}},
		"odd time": {carPath, `{"base":"","changedAt":"yesterday","body":{"name":"a"}}`, 422,
			[]string{`"field":"changedAt"`, "RFC 3339"}},
		"impossible time": {carPath, `{"base":"","changedAt":"1970-01-01T00:00:00Z","body":{"name":"a"}}`, 422,
			[]string{`"field":"changedAt"`, "clock"}},
		"unknown kind": {"/api/v1/garage/lorry/" + carID, putCar(`{"name":"a"}`), 404,
			[]string{"car, distributor or visit"}},
		"short id": {"/api/v1/garage/car/abc", putCar(`{"name":"a"}`), 422,
			[]string{`"field":"id"`, "16 to 32"}},
		"id with other marks": {"/api/v1/garage/car/ABCDEFGH0123456%20", putCar(`{"name":"a"}`), 422,
			[]string{`"field":"id"`}},
	} {
		t.Run(name, func(t *testing.T) {
			wantProblem(t, ask(s, "PUT", c.path, c.body), c.status, c.words...)
		})
	}
	if list := wantJSON[store.Feed](t, ask(s, "GET", "/api/v1/garage", "")); len(list.Documents) != 0 {
		t.Errorf("a refused document is in the garage: %+v", list)
	}
	wantProblem(t, ask(s, "GET", carPath, ""), 404, "id")
	wantProblem(t, ask(s, "GET", "/api/v1/garage?after=soon", ""), 422, "after")
	wantProblem(t, ask(s, "GET", "/api/v1/garage?after=-1", ""), 422, "after")
	wantProblem(t, ask(s, "DELETE", carPath, `{}`), 422, "changedAt")
	wantProblem(t, ask(s, "DELETE", "/api/v1/garage/lorry/"+carID, `{}`), 404, "kind")
}

func TestNamesOfEightyCharactersOfAnyScriptAreTaken(t *testing.T) {
	s := newSite(t)
	name := strings.Repeat("é", 80)
	if w := ask(s, "PUT", carPath, putCar(`{"name":"`+name+`"}`)); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

func TestFailingFileIsAProblemAndSaysNothingIsLost(t *testing.T) {
	s := newSite(t)
	s.store.Close()
	for method, path := range map[string]string{"GET": "/api/v1/garage", "PUT": carPath} {
		p := wantProblem(t, ask(s, method, path, putCar(`{"name":"a"}`)), 500, "nothing is lost")
		if strings.Contains(p.Detail, "/") {
			t.Errorf("the answer tells where the file is: %s", p.Detail)
		}
	}
}

var noonHere = time.Date(2026, 5, 2, 12, 0, 0, 0, time.UTC)

func TestTheListIsPackedForWhoCanUnpackIt(t *testing.T) {
	s := newSite(t)
	wantJSON[store.Answer](t, ask(s, "PUT", carPath, putCar(`{"name":"Linnet","owner":"`+strings.Repeat("a", 79)+
		`","distributorId":"","facts":{"story":{"value":"`+strings.Repeat("It pinks. ", 99)+
		`","unit":"","source":"","note":""}}}`)))
	plain := ask(s, "GET", "/api/v1/garage", "")
	w := ask(s, "GET", "/api/v1/garage", "", header("Accept-Encoding", "br;q=0, gzip"))
	if w.Code != 200 || w.Header().Get("Content-Encoding") != "gzip" || w.Header().Get("Vary") != "Accept-Encoding" {
		t.Fatalf("%d %v", w.Code, w.Header())
	}
	if w.Body.Len() >= plain.Body.Len()/2 {
		t.Errorf("packed it has %d bytes, plain %d", w.Body.Len(), plain.Body.Len())
	}
	unpacked, err := gzip.NewReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	if text, err := io.ReadAll(unpacked); err != nil || string(text) != plain.Body.String() {
		t.Errorf("%v: unpacked it says %.200s", err, text)
	}
	if plain.Header().Get("Content-Encoding") != "" {
		t.Error("packed for one who did not say that it can unpack")
	}
}

package web

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"pointsmith/calc"
)

func TestEveryMethodAnswersItsExample(t *testing.T) {
	s := newSite(t)
	for _, m := range calc.Describe() {
		want, err := calc.Call(m.Name, m.Example)
		if err != nil {
			t.Fatalf("%s refuses its own example: %v", m.Name, err)
		}
		w := ask(s, "POST", "/api/v1/calc/"+m.Name, string(m.Example))
		wantJSON[map[string]any](t, w)
		if w.Body.String() != string(want) {
			t.Errorf("%s over HTTP: %.200s, directly %.200s", m.Name, w.Body, want)
		}
		if w.Header().Get("Cache-Control") != "no-store" {
			t.Errorf("%s may be cached", m.Name)
		}
	}
}

func TestCalcRefusals(t *testing.T) {
	s := newSite(t)
	for name, c := range map[string]struct {
		method, body string
		status       int
		words        []string
	}{
		"unknown method": {"advance.guess", `{}`, 404, []string{"advance.guess"}},
		"unknown field": {"convert", `{"value":1,"from":"mm","to":"in","speed":1}`, 422,
			[]string{`"field":"speed"`, "known fields"}},
		"broken":         {"convert", `{"value":1,`, 400, []string{"JSON"}},
		"empty":          {"convert", ``, 400, []string{"empty"}},
		"NaN":            {"convert", `{"value":NaN,"from":"mm","to":"in"}`, 400, []string{"NaN"}},
		"too big number": {"convert", `{"value":1e999,"from":"mm","to":"in"}`, 422, []string{`"field":"value"`}},
		"text as number": {"convert", `{"value":"1","from":"mm","to":"in"}`, 422, []string{`"field":"value"`}},
		"two documents":  {"convert", `{} {}`, 400, nil},
	} {
		t.Run(name, func(t *testing.T) {
			wantProblem(t, ask(s, "POST", "/api/v1/calc/"+c.method, c.body), c.status, c.words...)
		})
	}
}

// Over a real connection, from a sender that writes everything before it
// listens: the refusal must arrive all the same.
func TestTenMegabytesAreRefusedWithTheLimit(t *testing.T) {
	s := newSite(t)
	server := httptest.NewServer(s.Handler())
	defer server.Close()
	big := `{"value":1,"from":"` + strings.Repeat("x", 10<<20) + `","to":"in"}`
	for method, path := range map[string]string{"POST": "/api/v1/calc/convert", "PUT": carPath, "DELETE": carPath} {
		conn, err := net.Dial("tcp", server.Listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		if _, err := fmt.Fprintf(conn, "%s %s HTTP/1.1\r\nHost: localhost\r\nContent-Length: %d\r\n\r\n%s", method,
			path, len(big), big); err != nil {
			t.Errorf("%s: the connection broke while sending: %v", method, err)
			continue
		}
		answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
		if err != nil {
			t.Errorf("%s: the refusal did not arrive: %v", method, err)
			continue
		}
		text, _ := io.ReadAll(answer.Body)
		answer.Body.Close()
		var p calc.Problem
		if json.Unmarshal(text, &p) != nil || answer.StatusCode != 413 || p.Limit != "1048576 bytes" || p.Do == "" {
			t.Errorf("%s: %d %s", method, answer.StatusCode, text)
		}
	}
}

func TestCalcListIsTheTable(t *testing.T) {
	s := newSite(t)
	listed := wantJSON[[]struct {
		Name    string
		Example json.RawMessage
		In      struct{ Fields []map[string]any }
	}](t, ask(s, "GET", "/api/v1/calc", ""))
	if len(listed) != len(calc.Describe()) {
		t.Fatalf("%d methods listed, there are %d", len(listed), len(calc.Describe()))
	}
	for i, m := range calc.Describe() {
		if listed[i].Name != m.Name || len(listed[i].Example) == 0 || len(listed[i].In.Fields) == 0 {
			t.Errorf("%+v is not %s", listed[i], m.Name)
		}
	}
}

func TestWrongMethodsAndAddressesAreProblems(t *testing.T) {
	s := newSite(t)
	w := ask(s, "GET", "/api/v1/calc/convert", "")
	wantProblem(t, w, 405, "POST")
	if w.Header().Get("Allow") != "POST" {
		t.Errorf("Allow is %q", w.Header().Get("Allow"))
	}
	wantProblem(t, ask(s, "POST", carPath, ""), 405, "GET, PUT, DELETE")
	wantProblem(t, ask(s, "GET", "/api/v2/status", ""), 404, "openapi.json")
	wantProblem(t, ask(s, "GET", "/api", ""), 404)
}

func TestStatusSaysWhatRuns(t *testing.T) {
	s := newSite(t)
	ask(s, "PUT", carPath, putCar(`{"name":"Linnet"}`))
	got := wantJSON[map[string]any](t, ask(s, "GET", "/api/v1/status", ""))
	if got["product"] != "pointsmith" || got["version"] != "test" || got["documents"] != 1.0 ||
		got["wasm"] != s.HasEngine() || got["access"] != "owner" || len(got) != 5 {
		t.Errorf("status %v", got)
	}
}

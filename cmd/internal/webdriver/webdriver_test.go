package webdriver

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// A refusal keeps the standard's code, by which a test knows whether to try
// again, on both wires.
func TestARefusalKeepsItsCode(t *testing.T) {
	const refusal = `{"error": "stale element reference", "message": "it was drawn anew", "stacktrace": ""}`
	byHTTP := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Method != "POST" || r.URL.Path != "/session/one/element/e7/click" {
			t.Errorf("%s %s", r.Method, r.URL.Path)
		}
		w.WriteHeader(http.StatusNotFound)
		_, _ = io.WriteString(w, `{"value": `+refusal+`}`)
	}))
	defer byHTTP.Close()
	for name, wire := range map[string]wire{
		"http":   newOverHTTP(byHTTP.URL + "/session/one"),
		"socket": socketThatAnswers(t, `[1, 1, `+refusal+`, null]`),
	} {
		var got *Error
		if err := (&Session{wire: wire}).Click(Element{elementKey: "e7"}); !errors.As(err, &got) ||
			got.Code != "stale element reference" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A value comes out of its wrapping, also when it is a promise's or nothing.
func TestAValueComesThrough(t *testing.T) {
	for answer, want := range map[string]string{
		`{"value": {"value": [1, "two"]}}`: `[1,"two"]`,
		`{"value": {"value": null}}`:       `null`,
	} {
		var got json.RawMessage
		s := &Session{wire: socketThatAnswers(t, `[1, 1, null, `+answer+`]`)}
		if err := s.Value(&got, "1"); err != nil || strings.ReplaceAll(string(got), " ", "") != want {
			t.Errorf("%s: %s %v", answer, got, err)
		}
	}
	var got string
	err := (&Session{wire: socketThatAnswers(t, `[1, 1, null, {"value": {"error": "TypeError: no"}}]`)}).Value(&got,
		"no()")
	if err == nil || !strings.Contains(err.Error(), "TypeError: no") {
		t.Errorf("a script that throws: %v", err)
	}
}

// What is no answer to the question is an error, never a value.
func TestAWrongAnswerIsAnError(t *testing.T) {
	for _, answer := range []string{`[1, 2, null, {"value": true}]`, `[1, 1`, `{}`} {
		var got bool
		if err := (&Session{wire: socketThatAnswers(t, answer)}).Value(&got, "true"); err == nil {
			t.Errorf("%s was taken for an answer", answer)
		}
	}
}

// socketThatAnswers is Firefox's end: a greeting, and one answer to whatever
// is asked.
func socketThatAnswers(t *testing.T, answer string) wire {
	t.Helper()
	here, there := net.Pipe()
	t.Cleanup(func() { _ = here.Close() })
	go func() {
		defer there.Close()
		say := func(text string) { _, _ = fmt.Fprintf(there, "%d:%s", len(text), text) }
		say(`{"applicationType": "gecko", "marionetteProtocol": 3}`)
		var n int
		in := bufio.NewReader(there)
		if _, err := fmt.Fscanf(in, "%d:", &n); err != nil {
			return
		}
		_, _ = io.CopyN(io.Discard, in, int64(n))
		say(answer)
	}()
	wire, err := newOverSocket(here)
	if err != nil {
		t.Fatal(err)
	}
	return wire
}

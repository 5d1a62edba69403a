package webdriver

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"
)

// overHTTP speaks the standard with a program that stands between.
type overHTTP struct {
	address string // of the session once there is one
	client  *http.Client
}

func newOverHTTP(address string) *overHTTP {
	// a little longer than what it waits for
	return &overHTTP{address: address, client: &http.Client{Timeout: patience + 5*time.Second}}
}

func (w *overHTTP) call(c command, arguments map[string]any) (json.RawMessage, error) {
	path, body := c.path, io.Reader(nil)
	if id, isOf := arguments["id"].(string); isOf {
		path = strings.Replace(path, "{id}", id, 1)
	}
	if c.method == http.MethodPost {
		if arguments == nil {
			arguments = map[string]any{}
		}
		text, err := json.Marshal(arguments)
		if err != nil {
			return nil, err
		}
		body = bytes.NewReader(text)
	}
	request, err := http.NewRequest(c.method, w.address+path, body)
	if err != nil {
		return nil, err
	}
	answer, err := w.client.Do(request)
	if err != nil {
		return nil, err
	}
	defer answer.Body.Close()
	var out struct{ Value json.RawMessage }
	if err := json.NewDecoder(answer.Body).Decode(&out); err != nil {
		return nil, fmt.Errorf("%s %s: %s: %w", c.method, path, answer.Status, err)
	}
	if answer.StatusCode != http.StatusOK {
		refusal := &Error{}
		if err := json.Unmarshal(out.Value, refusal); err != nil {
			return nil, fmt.Errorf("%s %s: %s: %.200s", c.method, path, answer.Status, out.Value)
		}
		return nil, refusal
	}
	return out.Value, nil
}

// open asks for a session with these wishes; all calls go to it from then on.
func (w *overHTTP) open(wishes map[string]any) error {
	answer, err := w.call(command{http.MethodPost, "/session", ""},
		map[string]any{"capabilities": map[string]any{"alwaysMatch": wishes}})
	if err != nil {
		return err
	}
	var made struct{ SessionID string }
	if err := json.Unmarshal(answer, &made); err != nil {
		return err
	}
	if made.SessionID == "" {
		return fmt.Errorf("no session in %.200s", answer)
	}
	w.address += "/session/" + made.SessionID
	return nil
}

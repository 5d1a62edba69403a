package admin

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pointsmith/calc"
)

// open starts a server that says what it was asked for.
func open(t *testing.T) (garage string, c *Channel) {
	t.Helper()
	garage = filepath.Join(t.TempDir(), "garage.db")
	c, err := Open(garage, []string{"https://192.168.1.20:7373"})
	if err != nil {
		t.Fatal(err)
	}
	server := &http.Server{Handler: c.Guard(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/refused" {
			w.WriteHeader(422)
			json.NewEncoder(w).Encode(calc.Problem{Title: "This is refused", Field: "name", Detail: "it is empty",
				Do: "give it one"})
			return
		}
		body, _ := io.ReadAll(r.Body)
		json.NewEncoder(w).Encode(r.Method + " " + r.URL.Path + " " + string(body) + r.Header.Get("Authorization"))
	}))}
	go server.Serve(c.Listener)
	t.Cleanup(func() { server.Close() })
	return garage, c
}

func TestTheServerIsFoundAndAnswers(t *testing.T) {
	garage, c := open(t)
	client, err := Dial(context.Background(), garage)
	if err != nil || len(client.Phones) != 1 {
		t.Fatal(client, err)
	}
	var said string
	if err := client.Ask(context.Background(), "POST", "/api", map[string]int{"a": 1}, &said); err != nil ||
		said != `POST /api {"a":1}` {
		t.Errorf("%q %v", said, err)
	}
	err = client.Ask(context.Background(), "GET", "/refused", nil, &said)
	if err == nil || !strings.Contains(err.Error(), "name: This is refused: it is empty") ||
		!strings.Contains(err.Error(), "do: give it one") {
		t.Errorf("%v", err)
	}
	if err := c.Close(); err != nil {
		t.Error(err)
	}
	if _, err := Dial(context.Background(), garage); !errors.Is(err, ErrNoServer) {
		t.Errorf("closed: %v", err)
	}
}

func TestOnlyTheTokenOpens(t *testing.T) {
	garage, c := open(t)
	if info, err := os.Stat(FileFor(garage)); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info.Mode(), err)
	}
	address := c.Listener.Addr().String()
	for name, change := range map[string]func(*http.Request){
		"no token":    func(*http.Request) {},
		"wrong token": func(r *http.Request) { r.Header.Set("Authorization", "Bearer "+c.token[1:]) },
		"another name": func(r *http.Request) {
			r.Header.Set("Authorization", "Bearer "+c.token)
			r.Host = "evil.example"
		},
	} {
		r, _ := http.NewRequest("GET", "http://"+address+"/", nil)
		change(r)
		answer, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(answer.Body)
		answer.Body.Close()
		if answer.StatusCode != 403 || strings.Contains(string(text), c.token) {
			t.Errorf("%s: %d %s", name, answer.StatusCode, text)
		}
	}
}

func TestWhatAKilledServerLeftIsNoServer(t *testing.T) {
	garage, c := open(t)
	c.Listener.Close()
	if _, err := Dial(context.Background(), garage); !errors.Is(err, ErrNoServer) {
		t.Errorf("nobody listens: %v", err)
	}
	if err := os.WriteFile(FileFor(garage), []byte(`{"addr`), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Dial(context.Background(), garage); !errors.Is(err, ErrNoServer) {
		t.Errorf("torn: %v", err)
	}
	again, err := Open(garage, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	if client, err := Dial(context.Background(), garage); err != nil || client.note.Token != again.token {
		t.Errorf("opened over it: %v", err)
	}
}

func TestAFolderThatCannotBeWrittenIsAnError(t *testing.T) {
	if _, err := Open(filepath.Join(t.TempDir(), "no folder", "garage.db"), nil); err == nil {
		t.Error("opened")
	}
}

package admin

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"time"

	"pointsmith/calc"
	"pointsmith/calc/refuse"
)

// ErrNoServer: no server answers for this garage file.
var ErrNoServer = errors.New("no server runs on this garage file")

// A Client speaks to a running server.
type Client struct {
	Phones []string // where phones reach the app, the likeliest first
	note   note
}

// Dial finds the server that runs on a garage file.
func Dial(ctx context.Context, garage string) (*Client, error) {
	text, err := os.ReadFile(FileFor(garage))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, ErrNoServer
	}
	if err != nil {
		return nil, fmt.Errorf("look for a running server: %w", err)
	}
	c := new(Client)
	if err := json.Unmarshal(text, &c.note); err != nil {
		return nil, ErrNoServer // torn; whoever wrote it is not there any more
	}
	c.Phones = c.note.Phones
	dialer := net.Dialer{Timeout: 2 * time.Second}
	conn, err := dialer.DialContext(ctx, "tcp", c.note.Address)
	if err != nil {
		return nil, ErrNoServer // killed: the file was left behind
	}
	return c, conn.Close()
}

// Send makes a request of the server's API, in is its JSON body or nil, and
// returns the answer, whatever its status. The caller closes its body.
func (c *Client) Send(ctx context.Context, method, path string, in any) (*http.Response, error) {
	var body io.Reader = http.NoBody
	if in != nil {
		text, err := json.Marshal(in)
		if err != nil {
			return nil, err
		}
		body = bytes.NewReader(text)
	}
	r, err := http.NewRequestWithContext(ctx, method, "http://"+c.note.Address+path, body)
	if err != nil {
		return nil, err
	}
	r.Header.Set("Authorization", "Bearer "+c.note.Token)
	answer, err := direct.Do(r)
	if err != nil {
		return nil, fmt.Errorf("ask the running server: %w", err)
	}
	return answer, nil
}

// direct never goes through a proxy: the other end is this machine.
var direct = &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}

// Ask is Send for requests that are answered with JSON, which is read into
// out. A refusal is an error that says in one line what the server said.
func (c *Client) Ask(ctx context.Context, method, path string, in, out any) error {
	answer, err := c.Send(ctx, method, path, in)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	if answer.StatusCode == http.StatusOK {
		if err := json.NewDecoder(answer.Body).Decode(out); err != nil {
			return fmt.Errorf("read the running server's answer: %w", err)
		}
		return nil
	}
	var p calc.Problem
	if err := json.NewDecoder(answer.Body).Decode(&p); err != nil || p.Title == "" {
		return fmt.Errorf("the running server answers %s; do: stop it, start it again, and try again", answer.Status)
	}
	return refuse.Input(p.Field, p.Title+": "+p.Detail, p.Limit, p.Do)
}

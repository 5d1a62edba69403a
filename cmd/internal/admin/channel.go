package admin

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
)

// A note is what stands in the file beside the garage file.
type note struct {
	Address string   `json:"address"` // HOST:PORT on loopback
	Token   string   `json:"token"`
	Phones  []string `json:"phones"` // where phones reach the app, the likeliest first
}

// A Channel is the open end of the server.
type Channel struct {
	Listener net.Listener
	file     string
	token    string
}

// FileFor names the file beside a garage file.
func FileFor(garage string) string { return garage + ".serving" }

// Open listens on loopback and writes the file. phones are the addresses at
// which phones reach the app. Only who holds the garage file may call it: it
// writes over what a server that was killed left behind.
func Open(garage string, phones []string) (*Channel, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("open the way for other commands: %w", err)
	}
	c := &Channel{Listener: listener, file: FileFor(garage), token: strings.ToLower(rand.Text())}
	text, err := json.Marshal(note{listener.Addr().String(), c.token, phones})
	if err == nil {
		err = writeOver(c.file, text)
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("open the way for other commands: %w", err), listener.Close())
	}
	return c, nil
}

// Close removes the file and stops listening.
func (c *Channel) Close() error {
	err := errors.Join(os.Remove(c.file), c.Listener.Close())
	if errors.Is(err, net.ErrClosed) { // the server has closed it when it stopped
		return nil
	}
	return err
}

// Guard lets requests with the token through to next, as if from this machine.
func (c *Channel) Guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		given := strings.TrimPrefix(r.Header.Get("Authorization"), "Bearer ")
		if r.Host != c.Listener.Addr().String() || subtle.ConstantTimeCompare([]byte(given), []byte(c.token)) != 1 {
			http.Error(w, "this address is for the pointsmith command alone", http.StatusForbidden)
			return
		}
		r.Header.Del("Authorization")
		next.ServeHTTP(w, r)
	})
}

// writeOver replaces a file in one step, for its owner's eyes only.
func writeOver(name string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), filepath.Base(name)+".*") // mode 0600
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

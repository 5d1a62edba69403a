package webdriver

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"strconv"
	"strings"
	"sync"
	"time"
)

// overSocket speaks with Firefox itself. A message is its length in bytes, a
// colon, and JSON: [0, number, command, arguments] there, [1, number, error,
// result] back.
type overSocket struct {
	mu     sync.Mutex
	conn   net.Conn
	in     *bufio.Reader
	number int
}

// newOverSocket takes a fresh connection, on which Firefox says first what
// it is.
func newOverSocket(conn net.Conn) (*overSocket, error) {
	w := &overSocket{conn: conn, in: bufio.NewReader(conn)}
	if _, err := w.read(); err != nil {
		return nil, fmt.Errorf("Firefox did not say what it is: %w", err)
	}
	return w, nil
}

func (w *overSocket) call(c command, arguments map[string]any) (json.RawMessage, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if arguments == nil {
		arguments = map[string]any{}
	}
	w.number++
	text, err := json.Marshal([]any{0, w.number, c.name, arguments})
	if err != nil {
		return nil, err
	}
	if _, err := fmt.Fprintf(w.conn, "%d:%s", len(text), text); err != nil {
		return nil, err
	}
	answer, err := w.read()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.name, err)
	}
	return valueOf(answer, w.number)
}

// valueOf takes an answer apart.
func valueOf(answer []byte, number int) (json.RawMessage, error) {
	var parts [4]json.RawMessage
	if err := json.Unmarshal(answer, &parts); err != nil {
		return nil, err
	}
	if got := string(parts[1]); got != strconv.Itoa(number) {
		return nil, fmt.Errorf("answer %s came to question %d", got, number)
	}
	if string(parts[2]) != "null" {
		refusal := &Error{}
		if err := json.Unmarshal(parts[2], refusal); err != nil {
			return nil, err
		}
		return nil, refusal
	}
	var wrapped map[string]json.RawMessage
	if json.Unmarshal(parts[3], &wrapped) == nil && wrapped["value"] != nil {
		return wrapped["value"], nil
	}
	return parts[3], nil
}

// read takes one message off the wire.
func (w *overSocket) read() ([]byte, error) {
	_ = w.conn.SetReadDeadline(time.Now().Add(patience + 5*time.Second))
	head, err := w.in.ReadString(':')
	if err != nil {
		return nil, err
	}
	n, err := strconv.Atoi(strings.TrimSuffix(head, ":"))
	if err != nil || n < 0 || n > 1<<26 { // chosen: a printed page is far below 64 MB
		return nil, fmt.Errorf("a message of %q bytes", head)
	}
	message := make([]byte, n)
	_, err = io.ReadFull(w.in, message)
	return message, err
}

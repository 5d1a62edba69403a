package web

import (
	"errors"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"
)

// Split makes two listeners of one: what speaks TLS goes to the first, plain
// HTTP to the second. So the address that was plain before there was a
// certificate goes on working on this machine, where browsers trust it anyway,
// and phones that still use it are told where to go.
//
// An accept that fails while the listener is open, as when file descriptors run
// out, ends nothing: it is said in the log and tried again after a while.
func Split(listener net.Listener, log *slog.Logger) (secure, plain net.Listener) {
	s := &splitter{Listener: listener, log: log, ended: make(chan struct{})}
	a, b := &half{splitter: s, conns: make(chan net.Conn)}, &half{splitter: s, conns: make(chan net.Conn)}
	go s.accept(a.conns, b.conns)
	return a, b
}

type splitter struct {
	net.Listener
	log   *slog.Logger
	once  sync.Once
	ended chan struct{}
	err   error // why it ended, once ended is closed
}

// A half is one of the two listeners.
type half struct {
	*splitter
	conns chan net.Conn
}

const (
	recordOfHandshake = 0x16             // the first byte of TLS (RFC 8446, section 5.1)
	firstByteTime     = 10 * time.Second // as long as a header may take
)

// Waits after an accept that failed, doubled each time. The same as net/http
// has them.
const (
	firstPause   = 5 * time.Millisecond
	longestPause = time.Second
)

func (s *splitter) accept(secure, plain chan<- net.Conn) {
	pause := firstPause
	for {
		conn, err := s.Listener.Accept()
		switch {
		case errors.Is(err, net.ErrClosed):
			s.end(err)
			return
		case err != nil:
			if pause == firstPause { // once, not once a second
				s.log.Error("a connection could not be taken; trying again", "error", err)
			}
			select {
			case <-time.After(pause):
			case <-s.ended:
				return
			}
			pause = min(2*pause, longestPause)
		default:
			pause = firstPause
			go s.sort(conn, secure, plain)
		}
	}
}

// sort looks at the first byte, outside the accepting loop: a silent
// connection holds up nobody.
func (s *splitter) sort(conn net.Conn, secure, plain chan<- net.Conn) {
	first := make([]byte, 1)
	_ = conn.SetReadDeadline(time.Now().Add(firstByteTime))
	if n, err := conn.Read(first); n == 0 || err != nil {
		_ = conn.Close()
		return
	}
	_ = conn.SetReadDeadline(time.Time{})
	to := plain
	if first[0] == recordOfHandshake {
		to = secure
	}
	select {
	case to <- &unread{Conn: conn, first: first}:
	case <-s.ended:
		_ = conn.Close()
	}
}

func (s *splitter) end(err error) {
	s.once.Do(func() {
		s.err = err
		close(s.ended)
		_ = s.Listener.Close()
	})
}

// Accept waits for the next connection of this kind.
func (h *half) Accept() (net.Conn, error) {
	select {
	case conn := <-h.conns:
		return conn, nil
	case <-h.ended:
		return nil, h.err
	}
}

// Close ends both halves.
func (h *half) Close() error {
	h.end(net.ErrClosed)
	return nil
}

// unread gives back the byte that was looked at.
type unread struct {
	net.Conn
	first []byte
}

// CloseWrite is that of the connection.
func (u *unread) CloseWrite() error { return closeWrite(u.Conn) }

func (u *unread) Read(p []byte) (int, error) {
	if len(u.first) > 0 && len(p) > 0 {
		n := copy(p, u.first)
		u.first = u.first[n:]
		return n, nil
	}
	return u.Conn.Read(p)
}

// PlainBesideTLS answers plain HTTP where TLS is spoken too: the site itself on
// this machine, and to others the way to it, which is the page at elsewhere
// (given the name they used) or, when that is "", the same address over https.
func (s *Site) PlainBesideTLS(elsewhere func(host string) string) http.Handler {
	toTLS := s.withHostCheck(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		to := elsewhere(r.Host)
		if to == "" {
			to = "https://" + r.Host + "/"
		}
		w.Header().Set("Cache-Control", "no-store")
		http.Redirect(w, r, to, http.StatusTemporaryRedirect) // for good only once it is trusted, which we cannot know
	}))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if addressOf(r).IsLoopback() { // also from what takes TLS off on this machine; who may do what is asked later
			s.handler.ServeHTTP(w, r)
			return
		}
		toTLS.ServeHTTP(w, r)
	})
}

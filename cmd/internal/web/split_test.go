package web

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// startBoth serves TLS and plain HTTP at one address.
func startBoth(t *testing.T) (s *Site, address string, client *http.Client) {
	t.Helper()
	// The certificate of net/http/httptest, for example.com and 127.0.0.1.
	lender := httptest.NewTLSServer(http.NotFoundHandler())
	lender.Close()
	roots := x509.NewCertPool()
	roots.AddCert(lender.Certificate())
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s = newSite(t)
	secure, plain := Split(listener, s.log)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() {
		ended <- Serve(ctx, s.log, Front{secure, &tls.Config{Certificates: lender.TLS.Certificates}, s.Handler()},
			Front{plain, nil, s.PlainBesideTLS(func(host string) string {
				return "http://" + strings.Replace(host, "7373", "7374", 1) + "/"
			})})
	}()
	t.Cleanup(func() {
		stop()
		select {
		case err := <-ended:
			if err != nil {
				t.Error(err)
			}
		case <-time.After(8 * time.Second):
			t.Error("still serving")
		}
		if conn, err := net.DialTimeout("tcp", listener.Addr().String(), time.Second); err == nil {
			conn.Close()
			t.Error("the address is still taken")
		}
	})
	client = &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots},
		ForceAttemptHTTP2: true}}
	t.Cleanup(client.CloseIdleConnections)
	return s, listener.Addr().String(), client
}

func TestOneAddressSpeaksBoth(t *testing.T) {
	_, address, client := startBoth(t)
	silent, err := net.Dial("tcp", address) // says nothing, and holds up nobody
	if err != nil {
		t.Fatal(err)
	}
	defer silent.Close()
	for _, scheme := range []string{"https", "http"} {
		answer, err := client.Get(scheme + "://" + address + "/api/v1/status")
		if err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(answer.Body)
		answer.Body.Close()
		if answer.StatusCode != 200 || !strings.Contains(string(text), "pointsmith") || scheme == "https" &&
			answer.ProtoMajor != 2 {
			t.Errorf("%s: %s %s %s", scheme, answer.Proto, answer.Status, text)
		}
	}
}

func TestPlainHTTPFromElsewhereIsShownTheWay(t *testing.T) {
	s := newSite(t)
	plain := s.PlainBesideTLS(func(host string) string {
		return "http://" + strings.Replace(host, "7373", "7374", 1) + "/"
	})
	to := func(h http.Handler, target, name, address string) *httptest.ResponseRecorder {
		r := httptest.NewRequest("GET", target, nil)
		r.Host, r.RemoteAddr = name, address
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w
	}
	for _, target := range []string{"/", "/api/v1/garage", "/js/frame/main.js"} {
		if w := to(plain, target, "192.0.2.1:7373", phone); w.Code != 307 ||
			w.Header().Get("Location") != "http://192.0.2.1:7374/" {
			t.Errorf("%s: %d %v", target, w.Code, w.Header())
		}
	}
	if w := to(plain, "/", "evil.example", phone); w.Code != 403 {
		t.Errorf("a foreign name is sent on: %d", w.Code)
	}
	if w := to(plain, "/", "localhost:7373", here); w.Code != 200 {
		t.Errorf("on this machine: %d", w.Code)
	}
	straight := s.PlainBesideTLS(func(string) string { return "" })
	if w := to(straight, "/x", "192.0.2.1:7373", phone); w.Code != 307 ||
		w.Header().Get("Location") != "https://192.0.2.1:7373/" {
		t.Errorf("%d %v", w.Code, w.Header())
	}
}

// A listener whose accepts fail for a while, as when descriptors run out.
type failing struct {
	net.Listener
	left atomic.Int32
}

func (f *failing) Accept() (net.Conn, error) {
	if f.left.Add(-1) >= 0 {
		return nil, &net.OpError{Op: "accept", Err: syscall.EMFILE}
	}
	return f.Listener.Accept()
}

func TestTheMainAddressOutlivesFailedAccepts(t *testing.T) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	f := &failing{Listener: listener}
	f.left.Store(5)
	_, plain := Split(f, newSite(t).log)
	defer plain.Close()
	served := make(chan error, 1)
	go func() { served <- http.Serve(plain, http.NotFoundHandler()) }()
	client := http.Client{Timeout: 5 * time.Second}
	answer, err := client.Get("http://" + listener.Addr().String() + "/")
	if err != nil {
		t.Fatalf("after five failed accepts nobody answers: %v", err)
	}
	answer.Body.Close()
	plain.Close()
	if err := <-served; !errors.Is(err, net.ErrClosed) {
		t.Errorf("closed, it ended with %v", err)
	}
}

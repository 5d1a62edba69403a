//go:build e2e

package e2e

import (
	"context"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"path/filepath"
	"sync/atomic"
	"testing"

	"pointsmith"
	"pointsmith/cmd/internal/web"
	"pointsmith/store"
)

// A site is the same server inside the test, so that what it serves can be
// changed under a phone's feet. Its garage and its address are its own.
type site struct {
	t       testing.TB
	store   *store.Store
	address string
	now     atomic.Pointer[http.Handler]
	end     func()
}

func newSite(t testing.TB) *site {
	t.Helper()
	return newSiteOf(t, appFiles(t))
}

func newSiteOf(t testing.TB, app fs.FS) *site {
	t.Helper()
	s := openSite(t, app, t.TempDir())
	t.Cleanup(s.leave)
	return s
}

// openSite opens a site that stays until leave is called.
func openSite(t testing.TB, app fs.FS, folder string) *site {
	t.Helper()
	garage, err := store.Open(filepath.Join(folder, "garage.db"))
	if err != nil {
		t.Fatal(err)
	}
	s := &site{t: t, store: garage, address: freeAddress(t)}
	s.serve(s.make(app))
	s.open()
	return s
}

func (s *site) leave() {
	s.shut()
	_ = s.store.Close()
}

// appFiles is the app as the binary carries it, the engine included.
func appFiles(t testing.TB) fs.FS {
	t.Helper()
	app, err := fs.Sub(pointsmith.App, "pwa/app")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := fs.Stat(app, "wasm/pointsmith.wasm"); err != nil {
		t.Fatal("the engine is not built; run go generate ./... first")
	}
	return app
}

// make prepares a handler for one version of the app.
func (s *site) make(app fs.FS) http.Handler {
	s.t.Helper()
	made, err := web.New(web.Options{Store: s.store, App: app, Version: "test", Log: slog.New(slog.DiscardHandler)})
	if err != nil {
		s.t.Fatal(err)
	}
	return made.Handler()
}

// serve changes what is served from now on.
func (s *site) serve(h http.Handler) { s.now.Store(&h) }

func (s *site) origin() string { return "http://" + s.address }

// open listens; shut drops every connection and stops listening.
func (s *site) open() {
	s.t.Helper()
	listener, err := net.Listen("tcp", s.address)
	if err != nil {
		s.t.Fatal(err)
	}
	server := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		(*s.now.Load()).ServeHTTP(w, r)
	})}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan struct{})
	go func() { _ = server.Serve(listener); close(ended) }()
	context.AfterFunc(ctx, func() { _ = server.Close() })
	s.end = func() { cancel(); <-ended }
}

func (s *site) shut() {
	if s.end != nil {
		s.end()
		s.end = nil
	}
}

// gate holds back the requests for one path until it is opened.
func gate(path string, next http.Handler) (held http.Handler, open func()) {
	opened := make(chan struct{})
	held = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == path {
			select {
			case <-opened:
			case <-r.Context().Done():
				return
			}
		}
		next.ServeHTTP(w, r)
	})
	return held, func() { close(opened) }
}

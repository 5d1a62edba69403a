package web

import (
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"
)

// Time limits of a connection. Chosen: a phone at the far end of a garage with
// one bar of signal gets its megabyte through, a stalled one does not hold us.
const (
	headerTime   = 10 * time.Second
	readTime     = 60 * time.Second
	writeTime    = 120 * time.Second
	idleTime     = 2 * time.Minute
	farewellTime = 5 * time.Second // how long running requests may finish when the server stops
	headerBytes  = 64 << 10
)

// A Front is one address and what answers there; with TLS when it is given.
type Front struct {
	Listener net.Listener
	TLS      *tls.Config
	Handler  http.Handler
}

// Serve answers requests at every front until ctx ends, then lets the running
// ones finish, for five seconds at most. It closes the listeners and returns
// nil after such an end. When one front fails all end.
func Serve(ctx context.Context, log *slog.Logger, fronts ...Front) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := make(chan error, len(fronts))
	for _, f := range fronts {
		go func() {
			defer stop()
			ended <- f.serve(ctx, log)
		}()
	}
	var err error
	for range fronts {
		err = errors.Join(err, <-ended)
	}
	return err
}

func (f Front) serve(ctx context.Context, log *slog.Logger) error {
	server := &http.Server{
		Handler: f.Handler, TLSConfig: f.TLS, ReadHeaderTimeout: headerTime, ReadTimeout: readTime,
		WriteTimeout: writeTime,
		IdleTimeout:  idleTime, MaxHeaderBytes: headerBytes,
		ConnState: noteState,
		ErrorLog:  slog.NewLogLogger(log.Handler(), slog.LevelDebug),
	}
	ended := make(chan error, 1)
	go func() {
		if f.TLS != nil {
			ended <- server.ServeTLS(f.Listener, "", "")
			return
		}
		ended <- server.Serve(f.Listener)
	}()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	farewell, cancel := context.WithTimeout(context.Background(), farewellTime)
	defer cancel()
	if err := server.Shutdown(farewell); err != nil {
		err = errors.Join(err, server.Close())
		log.Warn("a request was cut off when the server stopped", "error", err)
	}
	<-ended
	return nil
}

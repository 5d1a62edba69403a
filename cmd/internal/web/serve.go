package web

import (
	"context"
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

// Serve answers requests on listener until ctx ends, then lets the running
// ones finish, for five seconds at most. It closes the listener and returns
// nil after such an end.
func (s *Site) Serve(ctx context.Context, listener net.Listener) error {
	server := &http.Server{
		Handler: s.handler, ReadHeaderTimeout: headerTime, ReadTimeout: readTime, WriteTimeout: writeTime,
		IdleTimeout: idleTime, MaxHeaderBytes: headerBytes, ErrorLog: slog.NewLogLogger(s.log.Handler(), slog.LevelDebug),
	}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(listener) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	farewell, cancel := context.WithTimeout(context.Background(), farewellTime)
	defer cancel()
	if err := server.Shutdown(farewell); err != nil {
		err = errors.Join(err, server.Close())
		s.log.Warn("a request was cut off when the server stopped", "error", err)
	}
	<-ended
	return nil
}

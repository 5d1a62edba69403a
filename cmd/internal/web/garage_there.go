package web

import (
	"errors"
	"io/fs"
	"net/http"
	"os"

	"pointsmith/calc"
)

// isGarageThere makes sure that the garage file still lies where it is written
// to. A program that removes or replaces it does not touch the one that is open:
// that takes whatever is sent, and is gone when the server ends. So nothing is
// taken then; reading goes on, and with it pointsmith backup, which saves what
// the open file holds. When it is not there the request is answered.
func (s *Site) isGarageThere(w http.ResponseWriter) bool {
	path := s.store.Path()
	there, err := os.Stat(path)
	what := ""
	switch {
	case errors.Is(err, fs.ErrNotExist):
		what = "it was removed or moved"
	case err == nil && !os.SameFile(s.file, there):
		what = "another file lies in its place"
	default: // where it cannot be looked at, writing tells
		return true
	}
	s.log.Error("the garage file is gone, nothing is stored; do: run pointsmith backup, stop pointsmith serve, then pointsmith restore",
		"file", path, "why", what)
	refuseWith(w, calc.Problem{Status: http.StatusServiceUnavailable, Title: "The server’s garage file is gone",
		Detail: what + " while the server ran; what was sent is not stored",
		Limit:  "the file that was there at the start",
		Do:     "nothing is lost on the phone; on the server run pointsmith backup, stop pointsmith serve, then pointsmith restore"})
	return false
}

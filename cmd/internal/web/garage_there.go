package web

import (
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"

	"pointsmith/calc"
	"pointsmith/store"
)

// An openFile is the garage file as it was opened.
type openFile struct {
	path string
	info os.FileInfo
}

func openFileOf(garage *store.Store) (openFile, error) {
	info, err := os.Stat(garage.Path())
	if err != nil {
		return openFile{}, fmt.Errorf("look at the garage file: %w", err)
	}
	return openFile{garage.Path(), info}, nil
}

// isGarageThere makes sure that the garage file still lies where it is written
// to. A program that removes or replaces it does not touch the one that is open:
// that takes whatever is sent, and is gone when the server ends. So nothing is
// taken then; reading goes on, and with it pointsmith backup, which saves what
// the open file holds. When it is not there the request is answered.
func (s *Site) isGarageThere(w http.ResponseWriter) bool {
	there, err := os.Stat(s.file.path)
	what := ""
	switch {
	case errors.Is(err, fs.ErrNotExist):
		what = "it was removed or moved"
	case err == nil && !os.SameFile(s.file.info, there):
		what = "another file lies in its place"
	default: // where it cannot be looked at, writing tells
		return true
	}
	s.log.Error("the garage file is gone, nothing is stored; do: run pointsmith backup, stop pointsmith serve, then pointsmith restore",
		"file", s.file.path, "why", what)
	refuseWith(w, calc.Problem{Status: http.StatusServiceUnavailable, Title: "The server's garage file is gone",
		Detail: what + " while the server ran; what was sent is not stored",
		Limit:  "the file that was there at the start",
		Do:     "nothing is lost on the phone; on the server run pointsmith backup, stop pointsmith serve, then pointsmith restore"})
	return false
}

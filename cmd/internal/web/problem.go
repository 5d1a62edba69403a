package web

import (
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"runtime/debug"

	"pointsmith/calc"
	"pointsmith/cmd/internal/web/assets"
	"pointsmith/store"
)

// refuseWith answers with a problem document.
func refuseWith(w http.ResponseWriter, p calc.Problem) {
	if p.Type == "" {
		p.Type = "about:blank"
	}
	writeJSON(w, "application/problem+json", p.Status, p)
}

// reply answers with a document that must not be cached: the garage changes.
func reply(w http.ResponseWriter, v any) { writeJSON(w, "application/json", http.StatusOK, v) }

// replyPacked is reply for a long document: packed where the phone can unpack
// it, a seventh of the size on the way (gzip, RFC 1952).
func replyPacked(w http.ResponseWriter, r *http.Request, v any) {
	w.Header().Add("Vary", "Accept-Encoding")
	if !assets.Accepts(r.Header.Get("Accept-Encoding"), "gzip") {
		reply(w, v)
		return
	}
	w.Header().Set("Content-Encoding", "gzip")
	packed, _ := gzip.NewWriterLevel(w, gzip.BestSpeed) // the level exists
	reply(packedWriter{w, packed}, v)
	_ = packed.Close() // fails only when the phone has gone
}

type packedWriter struct {
	http.ResponseWriter
	packed *gzip.Writer
}

func (w packedWriter) Write(text []byte) (int, error) { return w.packed.Write(text) }

func writeJSON(w http.ResponseWriter, mediaType string, status int, v any) {
	w.Header().Set("Content-Type", mediaType)
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(status)
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	_ = e.Encode(v) // fails only when the phone has gone
}

func refuseAddress(w http.ResponseWriter, r *http.Request) {
	refuseWith(w, calc.Problem{Status: http.StatusNotFound, Title: "There is nothing at this address",
		Detail: fmt.Sprintf("%.200q is not an address of this server", r.URL.Path),
		Do:     "see /api/v1/openapi.json for the addresses there are"})
}

func refuseMethod(allowed string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Allow", allowed)
		refuseWith(w, calc.Problem{Status: http.StatusMethodNotAllowed, Title: "This address is not used that way",
			Detail: fmt.Sprintf("it does not take %.20q", r.Method), Limit: allowed, Do: "use one of these methods"})
	}
}

// refuseStore answers for an error of the store.
func (s *Site) refuseStore(w http.ResponseWriter, err error) {
	p := calc.Problem{Status: http.StatusUnprocessableEntity, Title: "This document is refused"}
	keeping, isKeeping := keepingProblem(err)
	ofPhoto, isOfPhoto := photoProblem(err)
	switch {
	case isOfPhoto:
		p = ofPhoto
	case isKeeping:
		p = keeping
	case errors.Is(err, store.ErrNotFound):
		p = calc.Problem{Status: http.StatusNotFound, Title: "There is no such document", Field: "id",
			Detail: "the garage has never had a document of this kind and id",
			Do:     "list the garage to see what there is"}
	case errors.Is(err, store.ErrUnknownDevice):
		p = calc.Problem{Status: http.StatusNotFound, Title: "There is no such device", Field: "id",
			Detail: "no paired device has this id", Do: "list the devices to see which there are"}
	case errors.Is(err, store.ErrTooLarge):
		p = tooLarge(store.MaxBody)
		p.Field = "body"
	case errors.Is(err, store.ErrTime):
		p.Field, p.Detail, p.Limit, p.Do = "changedAt", "this time cannot be true", "years 2000 to 2200",
			"set the clock of the phone, then send again"
	case errors.Is(err, store.ErrBody):
		p.Field, p.Detail, p.Limit, p.Do = "body", "it is not an object", "one JSON object", "send the whole document"
	case errors.Is(err, store.ErrKey):
		p.Field, p.Detail, p.Limit, p.Do = "id", "the id has characters or a length that are not taken",
			"16 to 32 of a-z and 0-9", "make a new id"
	default:
		s.log.Error("the garage file failed", "error", err)
		p = calc.Problem{Status: http.StatusInternalServerError, Title: "The garage file could not be used",
			Detail: "what was sent is not stored",
			Do:     "nothing is lost on the phone; look at the server's log, at the space left on its disk, and try again"}
	}
	refuseWith(w, p)
}

// withRecovery turns a fault of ours into an answer and a log entry.
func (s *Site) withRecovery(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if fault := recover(); fault != nil && fault != http.ErrAbortHandler {
				s.log.Error("a request failed", "method", r.Method, "path", r.URL.Path, "fault", fault, "stack",
					string(debug.Stack()))
				refuseWith(w, calc.AsProblem(errors.New("the server stopped working on this request")))
			}
		}()
		next.ServeHTTP(w, r)
	})
}

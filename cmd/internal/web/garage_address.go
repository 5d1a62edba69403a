package web

import (
	"errors"
	"net/http"
	"time"

	"pointsmith/calc"
	"pointsmith/calc/refuse"
	"pointsmith/cmd/internal/shape"
	"pointsmith/store"
)

// documentAddress reads kind and id from the address, or answers the request.
func documentAddress(w http.ResponseWriter, r *http.Request) (kind, id string, ok bool) {
	kind, id = pathValue(r, "kind"), pathValue(r, "id")
	if !shape.Known(kind) {
		p := calc.AsProblem(refuseKind(kind))
		p.Status, p.Title = http.StatusNotFound, "There is no such kind of document"
		refuseWith(w, p)
		return kind, id, false
	}
	if !store.ValidID(id) {
		refuseInput(w, refuse.Input("id", "has characters or a length that are not taken", "16 to 32 of a-z and 0-9",
			"make a new id"))
		return kind, id, false
	}
	return kind, id, true
}

// parseChangedAt reads the time a phone says a change was made.
func parseChangedAt(text string) (time.Time, error) {
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		return at, refuse.Input("changedAt", "is not a time", "RFC 3339, as 2026-05-01T12:00:00Z",
			"send the time of the change in that form")
	}
	return at, nil
}

// refuseInput answers for an error of the strict reading.
func refuseInput(w http.ResponseWriter, err error) { refuseWith(w, calc.AsProblem(err)) }

// inBody puts "body." before the field of a refusal, as the phone sent it.
func inBody(err error) error {
	var bad *refuse.Error
	if errors.As(err, &bad) {
		return bad.Under("body")
	}
	return err
}

// deviceName is where a change was typed: what the phone calls itself, or the
// name it was paired under.
func deviceName(r *http.Request, given string) string {
	if given != "" {
		return given
	}
	return memberOf(r).device.Name
}

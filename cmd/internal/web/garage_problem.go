package web

import (
	"errors"
	"net/http"

	"pointsmith/calc"
	"pointsmith/store"
)

// keepingProblem says in words what stands in the way of keeping or choosing.
func keepingProblem(err error) (calc.Problem, bool) {
	switch {
	case errors.Is(err, store.ErrTooManyKept):
		return calc.Problem{Status: http.StatusConflict, Title: "Too many copies of this document wait for a choice",
			Field:  "base",
			Detail: "this change did not know of another one, so one of the two would be kept aside",
			Limit:  "100 copies of a document",
			Do:     "choose among the kept copies; what was typed stays on the phone and is sent again"}, true
	case errors.Is(err, store.ErrMoved):
		return calc.Problem{Status: http.StatusConflict, Title: "The document has changed since it was looked at",
			Field:  "current",
			Detail: "the choice was made against an older version", Limit: "the revision that is current",
			Do: "look at both versions again, then choose"}, true
	case errors.Is(err, store.ErrChosen):
		return calc.Problem{Status: http.StatusConflict, Title: "Somebody has chosen already", Field: "take",
			Detail: "another choice was made about this copy before", Limit: "one choice a copy",
			Do: "look at the document as it is now"}, true
	case errors.Is(err, store.ErrTaken):
		return calc.Problem{Status: http.StatusConflict, Title: "This id is in use", Field: "newId",
			Detail: "a document of this id is there already", Limit: "an id nobody has",
			Do: "make a new id, and choose again"}, true
	case errors.Is(err, store.ErrNoSpace):
		return calc.Problem{Status: http.StatusInsufficientStorage, Title: "The server has no room left",
			Detail: "what was sent is not stored; all that was stored before is",
			Do:     "nothing is lost on the phone; free some room on the server's disk, and it is sent again"}, true
	}
	return calc.Problem{}, false
}

package web

import (
	"net/http"
	"strconv"

	"pointsmith/calc/refuse"
	"pointsmith/store"
)

// listGarage answers with a page of what changed, deleted documents included,
// so that a phone learns of them.
func (s *Site) listGarage(w http.ResponseWriter, r *http.Request) {
	query := r.URL.Query()
	after, bad := wholeNumber(query.Get("after"), "after", "send the cursor of the answer before, or leave it out")
	limit, alsoBad := wholeNumber(query.Get("limit"), "limit", "send how many documents at most, or leave it out")
	if bad == nil {
		bad = alsoBad
	}
	if bad != nil {
		refuseInput(w, bad)
		return
	}
	feed, err := s.store.Feed(store.Place{Cursor: after, Garage: query.Get("garage")},
		int(min(limit, store.PageDocuments)))
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	replyPacked(w, r, feed)
}

func wholeNumber(text, field, do string) (uint64, *refuse.Error) {
	if text == "" {
		return 0, nil
	}
	n, err := strconv.ParseUint(text, 10, 63)
	if err != nil {
		return 0, refuse.Input(field, "is not a cursor or a count", "a whole number from 0", do)
	}
	return n, nil
}

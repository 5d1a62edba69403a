package web

import (
	"net/http"
	"strconv"

	"pointsmith/calc/refuse"
	"pointsmith/store"
)

// A garageList is what changed after a cursor, and the cursor to ask with next.
type garageList struct {
	Cursor    uint64           `json:"cursor"`
	Documents []store.Document `json:"documents"`
}

// listGarage answers with what changed, deleted documents included, so that a
// phone learns of them.
func (s *Site) listGarage(w http.ResponseWriter, r *http.Request) {
	var after uint64
	if text := r.URL.Query().Get("after"); text != "" {
		var err error
		if after, err = strconv.ParseUint(text, 10, 63); err != nil {
			refuseInput(w, refuse.Input("after", "is not a cursor", "a whole number from 0", "send the cursor of the answer before, or leave it out"))
			return
		}
	}
	documents, cursor, err := s.store.Since(after)
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	if documents == nil {
		documents = []store.Document{}
	}
	reply(w, garageList{cursor, documents})
}

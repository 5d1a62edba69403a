package web

import (
	"net/http"

	"pointsmith/store"
)

// A keptList holds the versions that lost against another.
type keptList struct {
	Documents []store.Document `json:"documents"`
}

// listKept answers with the versions of a document that were set aside.
func (s *Site) listKept(w http.ResponseWriter, r *http.Request) {
	kind, id, ok := documentAddress(w, r)
	if !ok {
		return
	}
	kept, err := s.store.Kept(kind, id)
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	if kept == nil {
		kept = []store.Document{}
	}
	reply(w, keptList{kept})
}

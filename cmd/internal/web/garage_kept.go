package web

import (
	"encoding/json"
	"net/http"
	"slices"

	"pointsmith/store"
)

// A keptList holds copies that wait for a choice.
type keptList struct {
	Copies []store.Copy `json:"copies"`
}

// listAllKept answers with every copy of the garage that waits for a choice,
// the oldest first and without bodies: a list to choose from.
func (s *Site) listAllKept(w http.ResponseWriter, _ *http.Request) {
	kept, err := s.store.AllKept()
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	for n := range kept {
		kept[n].Body = json.RawMessage(`{}`)
	}
	reply(w, keptList{append([]store.Copy{}, kept...)})
}

// listKept answers with the copies of one document, bodies included.
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
	reply(w, keptList{append([]store.Copy{}, kept...)})
}

// getKept answers with one copy.
func (s *Site) getKept(w http.ResponseWriter, r *http.Request) {
	kind, id, ok := documentAddress(w, r)
	if !ok {
		return
	}
	kept, err := s.store.Kept(kind, id)
	n := slices.IndexFunc(kept, func(c store.Copy) bool { return c.Revision == pathValue(r, "revision") })
	if err == nil && n < 0 {
		err = store.ErrNotFound
	}
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	reply(w, kept[n])
}

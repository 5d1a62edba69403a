package web

import "net/http"

// getGarage answers with the current version of a document.
func (s *Site) getGarage(w http.ResponseWriter, r *http.Request) {
	kind, id, ok := documentAddress(w, r)
	if !ok {
		return
	}
	document, err := s.store.Get(kind, id)
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	reply(w, document)
}

package web

import "net/http"

// A status says what is running here.
type status struct {
	Product   string `json:"product" help:"always pointsmith"`
	Version   string `json:"version" help:"of the program"`
	Wasm      bool   `json:"wasm" help:"whether phones get the calculation engine; if not, they ask this server"`
	Documents int    `json:"documents" min:"0" help:"how many the garage holds, deleted ones not counted"`
}

func (s *Site) getStatus(w http.ResponseWriter, _ *http.Request) {
	n, err := s.store.Count()
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	reply(w, status{"pointsmith", s.version, s.hasEngine, n})
}

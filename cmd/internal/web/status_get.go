package web

import (
	"errors"
	"net/http"

	"pointsmith/store"
)

// A status says what is running here, and to whoever asks what they may do.
type status struct {
	Product   string `json:"product" help:"always pointsmith"`
	Version   string `json:"version" help:"of the program"`
	Wasm      bool   `json:"wasm" help:"whether phones get the calculation engine; if not, they ask this server"`
	Access    string `json:"access" enum:"owner|guest|none" help:"what whoever asks may do: use the garage and open it to others, use it, or neither until paired"`
	Documents *int   `json:"documents,omitempty" min:"0" help:"how many the garage holds, deleted ones not counted; left out where access is none"`
}

func (s *Site) getStatus(w http.ResponseWriter, r *http.Request) {
	answer := status{Product: "pointsmith", Version: s.version, Wasm: s.hasEngine, Access: "none"}
	m, err := s.recognise(w, r)
	if errors.Is(err, store.ErrUnknownDevice) {
		reply(w, answer)
		return
	}
	n, countErr := s.store.Count()
	if err := errors.Join(err, countErr); err != nil {
		s.refuseStore(w, err)
		return
	}
	answer.Access, answer.Documents = map[bool]string{true: "owner", false: "guest"}[m.isOwner], &n
	reply(w, answer)
}

package web

import (
	"net/http"

	"pointsmith/calc/schema"
	"pointsmith/store"
)

// deleteGarage marks a document as deleted.
func (s *Site) deleteGarage(w http.ResponseWriter, r *http.Request) {
	kind, id, ok := documentAddress(w, r)
	if !ok {
		return
	}
	text, ok := readBody(w, r, maxCalc, maxCalc)
	if !ok {
		return
	}
	removal, err := schema.Decode[removed](text)
	if err != nil {
		refuseInput(w, err)
		return
	}
	at, err := parseChangedAt(removal.ChangedAt)
	if err != nil {
		refuseInput(w, err)
		return
	}
	answer, err := s.store.Delete(store.Change{Kind: kind, ID: id, Base: removal.Base, ChangedAt: at,
		Device: deviceName(r, removal.Device)})
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	reply(w, answer)
}

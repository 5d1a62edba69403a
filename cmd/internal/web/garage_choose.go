package web

import (
	"net/http"

	"pointsmith/calc/schema"
	"pointsmith/store"
)

// A choice is what a person decided about a kept copy.
type choice struct {
	Take    string `json:"take" need:"yes" enum:"kept|current|both" help:"kept: the copy becomes current; current: the copy goes; both: the copy becomes a document of its own"`
	Current string `json:"current" need:"yes" maxLen:"64" help:"revision of the current version that was looked at"`
	NewID   string `json:"newId" maxLen:"32" help:"for both: the id of the new document, made by the phone"`
	Device  string `json:"device" maxLen:"80" help:"name of the phone"`
}

// chooseKept ends the waiting of a copy.
func (s *Site) chooseKept(w http.ResponseWriter, r *http.Request) {
	kind, id, ok := documentAddress(w, r)
	if !ok {
		return
	}
	text, ok := readBody(w, r, maxCalc, maxCalc)
	if !ok {
		return
	}
	c, err := schema.Decode[choice](text)
	if err != nil {
		refuseInput(w, err)
		return
	}
	chosen, err := s.store.Choose(kind, id, pathValue(r, "revision"),
		store.Choice{Take: c.Take, Current: c.Current, NewID: c.NewID, Device: deviceName(r, c.Device),
			Fits: fits(kind)})
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	reply(w, chosen)
}

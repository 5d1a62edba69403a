package web

import (
	"net/http"

	"pointsmith/calc/schema"
	"pointsmith/cmd/internal/shape"
	"pointsmith/store"
)

// putGarage stores a document as a phone has it.
func (s *Site) putGarage(w http.ResponseWriter, r *http.Request) {
	kind, id, ok := documentAddress(w, r)
	if !ok {
		return
	}
	text, ok := readBody(w, r, maxPush, store.MaxBody)
	if !ok {
		return
	}
	push, err := schema.Decode[pushed](text)
	if err == nil {
		err = inBody(shape.Check(kind, push.Body))
	}
	if err != nil {
		refuseInput(w, err)
		return
	}
	at, err := parseChangedAt(push.ChangedAt)
	if err != nil {
		refuseInput(w, err)
		return
	}
	answer, err := s.store.Put(store.Change{Kind: kind, ID: id, Base: push.Base, ChangedAt: at,
		Device: deviceName(r, push.Device), Body: push.Body, Fits: fits(kind)})
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	reply(w, answer)
}

// fits tells the store which united bodies a phone could send back.
func fits(kind string) func(body []byte) bool {
	return func(body []byte) bool { return shape.Check(kind, body) == nil }
}

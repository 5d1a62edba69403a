package web

import (
	"net/http"

	"pointsmith/store"
)

// A photoKept is the answer to a photo that is in the garage now.
type photoKept struct {
	Photo string `json:"photo" need:"yes"`
	Bytes int    `json:"bytes" need:"yes"`
}

// putPhoto keeps a photo. The same again changes nothing.
func (s *Site) putPhoto(w http.ResponseWriter, r *http.Request) {
	id, ok := photoAddress(w, r)
	if !ok {
		return
	}
	photo, ok := readBody(w, r, store.MaxPhoto, store.MaxPhoto)
	if !ok {
		return
	}
	if err := s.store.PutPhoto(id, photo); err != nil {
		s.refuseStore(w, err)
		return
	}
	reply(w, photoKept{id, len(photo)})
}

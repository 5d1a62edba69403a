package web

import (
	"net/http"
	"strconv"

	"pointsmith/calc/refuse"
	"pointsmith/store"
)

// getPhoto answers with a photo as it was put.
func (s *Site) getPhoto(w http.ResponseWriter, r *http.Request) {
	id, ok := photoAddress(w, r)
	if !ok {
		return
	}
	photo, err := s.store.Photo(id)
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	w.Header().Set("Content-Type", store.PhotoType(photo))
	w.Header().Set("Cache-Control", "no-store") // the phone keeps it in its own store
	w.Header().Set("Content-Length", strconv.Itoa(len(photo)))
	_, _ = w.Write(photo) // fails only when the phone has gone
}

// photoAddress reads the id from the address, or answers the request.
func photoAddress(w http.ResponseWriter, r *http.Request) (id string, ok bool) {
	id = pathValue(r, "photo")
	if ok = store.ValidPhotoID(id); !ok {
		refuseInput(w, refuse.Input("photo", "has characters or a length that are not taken", "32 of 0-9 and a-f",
			"use the first half of the picture's SHA-256"))
	}
	return id, ok
}

package web

import "net/http"

// A photoList holds the ids of all photos.
type photoList struct {
	Photos []string `json:"photos" need:"yes"`
}

// listPhotos answers with the ids of all photos, so that a phone knows which to
// send and which to fetch.
func (s *Site) listPhotos(w http.ResponseWriter, r *http.Request) {
	ids, err := s.store.PhotoIDs()
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	replyPacked(w, r, photoList{ids})
}

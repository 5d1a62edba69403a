package web

import "net/http"

// postImport takes in an exported garage, all of it or nothing.
func (s *Site) postImport(w http.ResponseWriter, r *http.Request) {
	text, ok := readBody(w, r, MaxGarageFile, MaxGarageFile)
	if !ok {
		return
	}
	file, err := ReadGarageFile(text)
	if err != nil {
		refuseInput(w, err)
		return
	}
	sum, err := s.store.Import(file.Documents, file.Copies, s.now(), file.Photos...)
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	s.log.Info("imported", "new", sum.New, "known", sum.Known, "united", sum.United, "kept", sum.Kept, "left", sum.Left,
		"removed", sum.Removed, "photos", sum.Photos)
	reply(w, sum)
}

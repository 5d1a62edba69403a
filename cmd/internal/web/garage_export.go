package web

import "net/http"

// getExport answers with the whole garage as one file.
func (s *Site) getExport(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	w.Header().Set("Content-Disposition", `attachment; filename="garage.json"`)
	if _, err := WriteGarageFile(w, s.store, s.now()); err != nil {
		s.log.Error("the export broke off", "error", err)
		panic(http.ErrAbortHandler) // the other end must not take half for whole
	}
}

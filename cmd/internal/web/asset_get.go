package web

import "net/http"

// getAsset answers with a file of the app, or with a plain page that says
// there is none.
func (s *Site) getAsset(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		refuseMethod("GET, HEAD")(w, r)
		return
	}
	a := s.assets[r.URL.Path]
	if a == nil {
		sayNotFound(w)
		return
	}
	a.ServeHTTP(w, r)
}

const notFoundPage = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Not here</title></head>
<body><h1>There is nothing at this address</h1><p><a href="/">Open Pointsmith</a></p></body></html>
`

func sayNotFound(w http.ResponseWriter) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	w.WriteHeader(http.StatusNotFound)
	_, _ = w.Write([]byte(notFoundPage))
}

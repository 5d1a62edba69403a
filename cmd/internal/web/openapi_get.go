package web

import "net/http"

func (s *Site) getOpenAPI(w http.ResponseWriter, _ *http.Request) { reply(w, s.openAPI) }

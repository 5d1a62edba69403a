package web

import (
	"net/http"
	"strconv"
	"strings"
)

// getAsset answers with a file of the app, or with a plain page that says
// there is none. Addresses never change with content, so a browser asks each
// time and mostly hears that it has the right one.
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
	coding, chosen := a.choose(r.Header.Get("Accept-Encoding"))
	h := w.Header()
	h.Set("Cache-Control", "no-cache")
	h.Set("Vary", "Accept-Encoding")
	h.Set("ETag", chosen.etag)
	if names(r.Header.Get("If-None-Match"), chosen.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Type", a.mediaType)
	h.Set("Content-Length", strconv.Itoa(len(chosen.bytes)))
	if coding != "" {
		h.Set("Content-Encoding", coding)
	}
	_, _ = w.Write(chosen.bytes) // fails only when the phone has gone
}

// choose takes the smallest coding the browser understands.
func (a *asset) choose(accepted string) (coding string, chosen coded) {
	switch {
	case a.brotli.bytes != nil && accepts(accepted, "br"):
		return "br", a.brotli
	case a.gzip.bytes != nil && accepts(accepted, "gzip"):
		return "gzip", a.gzip
	}
	return "", a.plain
}

// accepts reads an Accept-Encoding header; weight 0 means no.
func accepts(header, coding string) bool {
	for part := range strings.SplitSeq(header, ",") {
		name, parameter, _ := strings.Cut(strings.TrimSpace(part), ";")
		if !strings.EqualFold(strings.TrimSpace(name), coding) {
			continue
		}
		weight, isWeight := strings.CutPrefix(strings.TrimSpace(parameter), "q=")
		if !isWeight {
			return true
		}
		q, err := strconv.ParseFloat(weight, 64)
		return err == nil && q > 0
	}
	return false
}

// names reports whether an If-None-Match header names the ETag.
func names(header, etag string) bool {
	for part := range strings.SplitSeq(header, ",") {
		part = strings.TrimPrefix(strings.TrimSpace(part), "W/")
		if part == "*" || part == etag {
			return true
		}
	}
	return false
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

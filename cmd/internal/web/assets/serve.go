package assets

import (
	"net/http"
	"strconv"
	"strings"
)

// ServeHTTP answers with the file. Addresses never change with content, so a
// browser asks each time and mostly hears that it has the right one.
func (a *Asset) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	coding, chosen := a.choose(r.Header.Get("Accept-Encoding"))
	h := w.Header()
	h.Set("Cache-Control", "no-cache")
	h.Set("Vary", "Accept-Encoding")
	h.Set("ETag", chosen.etag)
	if names(r.Header.Get("If-None-Match"), chosen.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	h.Set("Content-Type", a.MediaType)
	h.Set("Content-Length", strconv.Itoa(len(chosen.bytes)))
	if coding != "" {
		h.Set("Content-Encoding", coding)
	}
	_, _ = w.Write(chosen.bytes) // fails only when the phone has gone
}

// Bytes gives the file in no coding.
func (a *Asset) Bytes() []byte { return a.plain.bytes }

// Gzip gives the file compressed, or nil when that would not be smaller.
func (a *Asset) Gzip() []byte { return a.gzip.bytes }

// HasEngine reports whether the calculation engine is among the files.
func (f Files) HasEngine() bool { return f[enginePath] != nil }

// choose takes the smallest coding the browser understands.
func (a *Asset) choose(accepted string) (coding string, chosen coded) {
	switch {
	case a.brotli.bytes != nil && Accepts(accepted, "br"):
		return "br", a.brotli
	case a.gzip.bytes != nil && Accepts(accepted, "gzip"):
		return "gzip", a.gzip
	}
	return "", a.plain
}

// Accepts reads an Accept-Encoding header; weight 0 means no.
func Accepts(header, coding string) bool {
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

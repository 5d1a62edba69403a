package web

import (
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"pointsmith/store"
)

const manyDocuments = 10_000

// manyFull is a site with 10,000 visits of 2 kB, and all pages of its feed as
// they are sent.
func manyFull(b *testing.B) (s *Site, pages [][]byte) {
	b.Helper()
	s = newSite(b)
	body := json.RawMessage(`{"notes":"` + strings.Repeat("rising 1000 17.5 ", 120) + `"}`)
	var changes []store.Change
	for n := range manyDocuments {
		changes = append(changes, store.Change{Kind: "visit", ID: fmt.Sprintf("visit%011d", n),
			ChangedAt: noonHere, Body: body})
	}
	if _, err := s.store.Import(changes, nil, noonHere); err != nil {
		b.Fatal(err)
	}
	for place := "?"; place != ""; {
		w := ask(s, "GET", "/api/v1/garage"+place, "")
		pages = append(pages, w.Body.Bytes())
		place = nextPlace(b, w.Body.Bytes())
	}
	return s, pages
}

func nextPlace(b *testing.B, page []byte) string {
	var f struct {
		Cursor uint64
		More   bool
		Garage string
	}
	if err := json.Unmarshal(page, &f); err != nil {
		b.Fatal(err)
	}
	if !f.More {
		return ""
	}
	return fmt.Sprintf("?after=%d&garage=%s", f.Cursor, f.Garage)
}

func get(b *testing.B, url string) []byte {
	answer, err := http.Get(url)
	if err != nil {
		b.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		b.Fatal(answer.Status, err)
	}
	return text
}

// BenchmarkFreshPhone is a new phone that fetches all of 10,000 documents.
// BenchmarkFreshPhoneBare beside it fetches the same bytes in the same pages
// from a handler that does nothing else; both phones read the JSON of a page
// to learn where to go on. Their ratio is what reading them from the garage
// file, checked and in order, costs.
func BenchmarkFreshPhone(b *testing.B) {
	s, pages := manyFull(b)
	server := httptest.NewServer(s.Handler())
	defer server.Close()
	for b.Loop() {
		n := 0
		for place := "?"; place != ""; n++ {
			place = nextPlace(b, get(b, server.URL+"/api/v1/garage"+place))
		}
		if n != len(pages) {
			b.Fatal(n)
		}
	}
	b.ReportMetric(float64(manyDocuments), "documents")
}

func BenchmarkFreshPhoneBare(b *testing.B) {
	_, pages := manyFull(b)
	next := 0
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		bare("application/json", pages[next])(w, r)
		next++
	}))
	defer server.Close()
	for b.Loop() {
		next = 0
		for range pages {
			nextPlace(b, get(b, server.URL))
		}
	}
	b.ReportMetric(float64(manyDocuments), "documents")
}

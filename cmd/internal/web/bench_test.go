package web

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"

	"pointsmith/calc"
)

// Each pair of benchmarks sends the same number of bytes over one kept-open
// connection; the bare one does nothing else. Their ratio is what our checks,
// headers and calculations cost.

func benchGet(b *testing.B, handler http.Handler, send func(url string) (*http.Response, error)) {
	server := httptest.NewServer(handler)
	defer server.Close()
	for b.Loop() {
		answer, err := send(server.URL)
		if err != nil || answer.StatusCode != 200 {
			b.Fatal(answer, err)
		}
		if _, err := io.Copy(io.Discard, answer.Body); err != nil { // to its end, or the connection is not used again
			b.Fatal(err)
		}
		answer.Body.Close()
	}
}

func bare(mediaType string, body []byte) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", mediaType)
		w.Header().Set("Content-Length", strconv.Itoa(len(body)))
		_, _ = w.Write(body)
	}
}

// getPage asks for the page as a browser does, and leaves it compressed: the
// bare handler sends the same bytes.
func getPage(url string) (*http.Response, error) {
	r, err := http.NewRequest("GET", url+"/", nil)
	if err != nil {
		return nil, err
	}
	r.Header.Set("Accept-Encoding", "gzip")
	return http.DefaultClient.Do(r)
}

func BenchmarkStatic(b *testing.B) { benchGet(b, newSite(b).Handler(), getPage) }

func BenchmarkStaticBare(b *testing.B) {
	page := newSite(b).assets["/"]
	benchGet(b, bare(page.MediaType, page.Gzip()), getPage)
}

const convertInput = `{"value":20,"from":"inHg","to":"kPa"}`

func postConvert(url string) (*http.Response, error) {
	return http.Post(url+"/api/v1/calc/convert", "application/json", strings.NewReader(convertInput))
}

func BenchmarkCalc(b *testing.B) { benchGet(b, newSite(b).Handler(), postConvert) }

func BenchmarkCalcBare(b *testing.B) {
	out, err := calc.Call("convert", []byte(convertInput))
	if err != nil {
		b.Fatal(err)
	}
	benchGet(b, bare("application/json", out), postConvert)
}

// Who asks is looked up at every request of a paired phone; on this machine
// nothing is. Their difference is what pairing costs.
func BenchmarkMember(b *testing.B) {
	s := newSite(b)
	for name, change := range map[string]func(*http.Request){"here": from(here),
		"paired": bearer(pairedToken(b, s, false))} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if w := ask(s, "GET", "/api/v1/status", "", change, func(r *http.Request) {
					if name == "paired" {
						r.RemoteAddr = phone
					}
				}); w.Code != 200 {
					b.Fatal(w.Code)
				}
			}
		})
	}
}

// BenchmarkStaticOverTLS is BenchmarkStatic over a kept-open TLS connection.
func BenchmarkStaticOverTLS(b *testing.B) {
	server := httptest.NewTLSServer(newSite(b).Handler())
	defer server.Close()
	client := server.Client()
	for b.Loop() {
		r, err := http.NewRequest("GET", server.URL+"/", nil)
		if err != nil {
			b.Fatal(err)
		}
		r.Header.Set("Accept-Encoding", "gzip")
		answer, err := client.Do(r)
		if err != nil || answer.StatusCode != 200 {
			b.Fatal(answer, err)
		}
		if _, err := io.Copy(io.Discard, answer.Body); err != nil {
			b.Fatal(err)
		}
		answer.Body.Close()
	}
}

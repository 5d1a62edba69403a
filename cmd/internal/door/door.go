package door

import (
	"crypto/rand"
	_ "embed"
	"fmt"
	"html/template"
	"net"
	"net/http"
	"slices"
	"strings"

	"pointsmith/cmd/internal/localca"
)

// A Door serves the page. Make it with New.
type Door struct {
	authority *localca.Authority
	profile   []byte
	tlsPort   string
	name      string // that phones are sent to, "" for the one they came by
	isOwnHost func(host string) bool
	arrivals  arrivals
}

// New makes a door to the HTTPS side at tlsPort. name is the one that stays
// when the address changes, "" where none is answered; isOwnHost says which
// Host headers name this server.
func New(a *localca.Authority, tlsPort, name string, isOwnHost func(string) bool) (*Door, error) {
	profile, err := a.Profile()
	if err != nil {
		return nil, err
	}
	return &Door{authority: a, profile: profile, tlsPort: tlsPort, name: name, isOwnHost: isOwnHost}, nil
}

var (
	//go:embed page.html
	pageText string
	//go:embed tick.html
	tickText string
	//go:embed style.css
	style []byte

	pageTemplate = template.Must(template.New("page").Parse(pageText))
	tickTemplate = template.Must(template.New("tick").Parse(tickText))
)

const (
	certificatePath = "/pointsmith.crt"
	textPath        = "/pointsmith.pem"
	profilePath     = "/pointsmith.mobileconfig"
	tickPath        = "/tick/"
	arrivedPath     = "/arrived/" // on the HTTPS side
	// policy: no script at all. The picture's address is not 'self'.
	policy = "default-src 'none'; style-src 'self'; img-src https:; frame-src 'self'; frame-ancestors 'self'; base-uri 'none'; form-action 'none'"
)

// Handler answers on the plain side.
func (d *Door) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", d.getPage)
	mux.HandleFunc("GET "+tickPath+"{marker}", d.getTick)
	mux.HandleFunc("GET "+certificatePath, d.file("application/x-x509-ca-cert", d.authority.Certificate.Raw))
	mux.HandleFunc("GET "+textPath, d.file("application/x-pem-file", d.authority.PEM()))
	mux.HandleFunc("GET "+profilePath, d.file(localca.ProfileType, d.profile))
	mux.HandleFunc("GET /style.css", d.file("text/css; charset=utf-8", style))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cache-Control", "no-store")
		if !d.isOwnHost(r.Host) {
			http.Error(w, "this server does not go by that name; use the address it printed", http.StatusForbidden)
			return
		}
		mux.ServeHTTP(w, r)
	})
}

// OverTLS notes arrivals on the HTTPS side and passes on everything else.
func (d *Door) OverTLS(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		marker, isArrival := strings.CutPrefix(r.URL.Path, arrivedPath)
		if !isArrival || r.TLS == nil {
			next.ServeHTTP(w, r)
			return
		}
		d.arrivals.arrive(marker, d.name != "" && nameIn(r.Host) == d.name)
		w.Header().Set("Content-Type", "image/svg+xml")
		w.Header().Set("Cache-Control", "no-store")
		w.Header().Set("Cross-Origin-Resource-Policy", "cross-origin") // the page is of another origin: plain HTTP
		w.Header().Set("Content-Security-Policy", "default-src 'none'")
		w.Header().Set("X-Content-Type-Options", "nosniff")
		_, _ = w.Write([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"/>`))
	})
}

func (d *Door) getPage(w http.ResponseWriter, r *http.Request) {
	marker := strings.ToLower(rand.Text())
	d.arrivals.expect(marker)
	d.show(w, pageTemplate, map[string]any{
		"Tick": tickPath + marker, "App": d.appURL(d.nameOr(r)), "AsCame": d.appURL(nameIn(r.Host)),
		"Fingerprint": inGroups(d.authority.Fingerprint()),
		"Name":        d.authority.Certificate.Subject.CommonName,
		"Until":       d.authority.Certificate.NotAfter.Format("2006-01-02"), "Domains": d.authority.Limits().Domains,
		"Phone": kindOf(r.UserAgent()), "Certificate": certificatePath, "Text": textPath, "Profile": profilePath,
	})
}

// inGroups cuts a fingerprint into groups of four pairs, so that lines break
// between them.
func inGroups(fingerprint string) (groups []string) {
	for group := range slices.Chunk(strings.SplitAfter(fingerprint, ":"), 4) {
		groups = append(groups, strings.Join(group, ""))
	}
	return groups
}

func (d *Door) getTick(w http.ResponseWriter, r *http.Request) {
	marker := r.PathValue("marker")
	d.arrivals.remember(marker)
	hasArrived, byName := d.arrivals.hasArrived(marker)
	app, pictures := nameIn(r.Host), []string{d.picture(nameIn(r.Host), marker)}
	if name := d.nameOr(r); name != app {
		pictures = append(pictures, d.picture(name, marker))
		if byName {
			app = name
		}
	}
	d.show(w, tickTemplate, map[string]any{"HasArrived": hasArrived, "App": d.appURL(app), "Pictures": pictures})
}

func (d *Door) show(w http.ResponseWriter, t *template.Template, values any) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_ = t.Execute(w, values) // fails only when the phone has gone
}

func (d *Door) file(mediaType string, content []byte) http.HandlerFunc {
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", mediaType)
		w.Header().Set("Content-Length", fmt.Sprint(len(content)))
		_, _ = w.Write(content)
	}
}

// nameOr is the name phones are sent to, or the one that was used here.
func (d *Door) nameOr(r *http.Request) string {
	if d.name != "" {
		return d.name
	}
	return nameIn(r.Host)
}

// picture is fetched over HTTPS by a browser that trusts the certificate.
func (d *Door) picture(name, marker string) string {
	return strings.TrimSuffix(d.appURL(name), "/") + arrivedPath + marker
}

// appURL is the app's address over HTTPS by that name.
func (d *Door) appURL(name string) string {
	return "https://" + net.JoinHostPort(name, d.tlsPort) + "/"
}

// nameIn is a Host header without its port, in lower case.
func nameIn(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return strings.ToLower(strings.Trim(host, "[]"))
}

// kindOf guesses which steps to show first.
func kindOf(userAgent string) string {
	switch {
	case strings.Contains(userAgent, "Android"):
		return "android"
	case strings.Contains(userAgent, "iPhone"), strings.Contains(userAgent, "iPad"):
		return "apple"
	}
	return "other"
}

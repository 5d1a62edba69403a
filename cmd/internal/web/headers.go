package web

import (
	"net"
	"net/http"
	"net/netip"
	"strings"

	"pointsmith/cmd/internal/web/assets"
)

// permissions are what the browser may be asked for: the microphone listens to
// the engine, the wake lock keeps the screen on while both hands are busy.
const permissions = "microphone=(self), screen-wake-lock=(self), camera=(), geolocation=(), payment=(), usb=(), midi=(), display-capture=()"

// withHeaders sets what holds for every answer. The policy stands on scripts
// too: a worker follows the one of its own file.
func withHeaders(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", assets.Policy)
		h.Set("Permissions-Policy", permissions)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		if isTrustworthy(r) { // elsewhere browsers ignore it, and complain on every page
			h.Set("Cross-Origin-Opener-Policy", "same-origin")
		}
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// isTrustworthy reports whether a browser takes the page for one that came
// unchanged: over TLS, or from its own machine by a name that says so (W3C
// Secure Contexts, section 3.1).
func isTrustworthy(r *http.Request) bool {
	name := r.Host
	if host, _, err := net.SplitHostPort(r.Host); err == nil {
		name = host
	}
	ip, err := netip.ParseAddr(strings.Trim(name, "[]"))
	return r.TLS != nil || r.Header.Get("X-Forwarded-Proto") == "https" || strings.EqualFold(name, "localhost") ||
		err == nil && ip.IsLoopback()
}

package web

import (
	"crypto/subtle"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"pointsmith/calc"
)

// This file decides who may use the garage. Two dangers are met here: a web
// page somewhere else that makes a browser in this house ask us (Host and
// Origin), and somebody else on the network (the key).

// withHostCheck refuses requests that name a host that is not us, or come from
// a page that is not ours.
func (s *Site) withHostCheck(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.isOwnHost(r.Host) {
			s.refuseAccess(w, r, calc.Problem{Status: http.StatusForbidden, Title: "This server does not go by that name", Field: "Host",
				Detail: "the address used to get here is not one of this server's", Limit: "its address in numbers, localhost, the machine's name, or a name given with -host",
				Do: "use the address the server printed, or start it with -host NAME"})
			return
		}
		if origin := r.Header.Get("Origin"); origin != "" && !isSameHost(origin, r.Host) {
			s.refuseAccess(w, r, calc.Problem{Status: http.StatusForbidden, Title: "Another page's requests are not taken", Field: "Origin",
				Detail: "the request was made by a page of another address", Limit: "pages of this server", Do: "open the app at this server's own address"})
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *Site) isOwnHost(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	if _, err := netip.ParseAddr(strings.Trim(name, "[]")); err == nil {
		return true
	}
	return s.hosts[strings.ToLower(strings.TrimSuffix(name, "."))]
}

func isSameHost(origin, host string) bool {
	u, err := url.Parse(origin)
	return err == nil && (u.Scheme == "http" || u.Scheme == "https") && strings.EqualFold(u.Host, host)
}

// forMembers lets a handler answer this machine, and others that show the key.
func (s *Site) forMembers(handle http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if !isFromHere(r) && !s.showsKey(r) {
			w.Header().Set("WWW-Authenticate", `Bearer realm="garage"`)
			s.refuseAccess(w, r, calc.Problem{Status: http.StatusUnauthorized, Title: "This garage does not know this phone", Field: "Authorization",
				Detail: "the garage's key is missing or wrong", Limit: "from elsewhere than the server itself, only with its key",
				Do: "scan the code the server shows when it starts; what was typed stays on the phone"})
			return
		}
		handle(w, r)
	}
}

// isFromHere reports whether the request was made on this machine. One that a
// proxy passed on was not, though the proxy itself may run here.
func isFromHere(r *http.Request) bool {
	for _, name := range []string{"Forwarded", "X-Forwarded-For", "X-Real-Ip", "Via"} {
		if r.Header.Get(name) != "" {
			return false
		}
	}
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	return err == nil && from.Addr().Unmap().IsLoopback()
}

func (s *Site) showsKey(r *http.Request) bool {
	kind, key, _ := strings.Cut(r.Header.Get("Authorization"), " ")
	return strings.EqualFold(kind, "Bearer") && subtle.ConstantTimeCompare([]byte(key), []byte(s.accessKey)) == 1
}

func (s *Site) refuseAccess(w http.ResponseWriter, r *http.Request, p calc.Problem) {
	s.log.Warn("refused: "+p.Title, "from", r.RemoteAddr, "method", r.Method, "path", r.URL.Path, "host", r.Host, "origin", r.Header.Get("Origin"))
	refuseWith(w, p)
}

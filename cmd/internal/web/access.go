package web

import (
	"context"
	"errors"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"strings"

	"pointsmith/calc"
	"pointsmith/store"
)

// This file decides who may use the garage. Two dangers are met here: a web
// page somewhere else that makes a browser in this house ask us (Host, Origin
// and Sec-Fetch-Site), and somebody else on the network (pairing).

// withHostCheck refuses requests that name a host that is not us, or come from
// a page that is not ours.
func (s *Site) withHostCheck(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !s.IsOwnHost(r.Host) {
			s.refuseAccess(w, r,
				calc.Problem{Status: http.StatusForbidden, Title: "This server does not go by that name", Field: "Host",
					Detail: "the address used to get here is not one of this server's",
					Limit:  "its address in numbers, localhost, the machine's name, or a name given with -host",
					Do:     "use the address the server printed, or start it with -host NAME"})
			return
		}
		if origin := r.Header.Get("Origin"); origin != "" && !isSameOrigin(origin, r) {
			s.refuseAccess(w, r, calc.Problem{Status: http.StatusForbidden,
				Title: "Another page's requests are not taken", Field: "Origin",
				Detail: "the request was made by a page of another address", Limit: "pages of this server",
				Do: "open the app at this server's own address"})
			return
		}
		next.ServeHTTP(w, r)
	})
}

// IsOwnHost reports whether a Host header names this server: an address in
// numbers cannot be made to point here by somebody's name server, and names
// are known beforehand.
func (s *Site) IsOwnHost(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	if _, err := netip.ParseAddr(strings.Trim(name, "[]")); err == nil {
		return true
	}
	return s.hosts[strings.ToLower(strings.TrimSuffix(name, "."))]
}

// isSameOrigin: over TLS the page must have come that way too. Without it,
// something in front of us may have taken the TLS off.
func isSameOrigin(origin string, r *http.Request) bool {
	u, err := url.Parse(origin)
	return err == nil && (u.Scheme == "https" || u.Scheme == "http" && r.TLS == nil) &&
		strings.EqualFold(u.Host, r.Host)
}

// A member is who asks, once it is known that they may.
type member struct {
	device  store.Device // zero on this machine
	isHere  bool         // the request was made on this machine
	isOwner bool         // may let other devices in, and shut them out
}

type memberKey struct{}

// memberOf gives who a request of forMembers or forOwners is from.
func memberOf(r *http.Request) member {
	m, _ := r.Context().Value(memberKey{}).(member)
	return m
}

// forMembers lets a handler answer this machine and paired devices.
func (s *Site) forMembers(handle http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if site := r.Header.Get("Sec-Fetch-Site"); site != "" && site != "same-origin" && site != "none" {
			s.refuseAccess(w, r, calc.Problem{Status: http.StatusForbidden,
				Title: "Another page's requests are not taken", Field: "Sec-Fetch-Site",
				Detail: "the request was made by a page of another address", Limit: "pages of this server",
				Do: "open the app at this server's own address"})
			return
		}
		m, err := s.recognise(w, r)
		if errors.Is(err, store.ErrUnknownDevice) {
			w.Header().Set("WWW-Authenticate", `Bearer realm="garage"`)
			s.refuseAccess(w, r, calc.Problem{Status: http.StatusUnauthorized,
				Title: "This phone is not paired with the garage", Field: "Authorization",
				Detail: "it shows no token of a paired device",
				Limit:  "from elsewhere than the server itself, only paired devices",
				Do:     "scan or type the code that the server shows, or that pointsmith pair makes; what was typed stays on the phone"})
			return
		}
		if err != nil {
			s.refuseStore(w, err)
			return
		}
		if r.Method != http.MethodGet && !s.isGarageThere(w) {
			return
		}
		handle(w, r.WithContext(context.WithValue(r.Context(), memberKey{}, m)))
	}
}

// forOwners is forMembers for what only this machine and owners' devices do.
func (s *Site) forOwners(handle http.HandlerFunc) http.HandlerFunc {
	return s.forMembers(func(w http.ResponseWriter, r *http.Request) {
		if !memberOf(r).isOwner {
			s.refuseNotOwner(w, r)
			return
		}
		handle(w, r)
	})
}

func (s *Site) refuseNotOwner(w http.ResponseWriter, r *http.Request) {
	s.refuseAccess(w, r, calc.Problem{Status: http.StatusForbidden,
		Title: "This device may use the garage, not open or close it to others", Field: "Authorization",
		Detail: "it is paired as a guest", Limit: "devices paired as an owner's, and the server's own machine",
		Do: "ask an owner, or run pointsmith pair on the server"})
}

// recognise finds out who asks. It returns ErrUnknownDevice for strangers.
func (s *Site) recognise(w http.ResponseWriter, r *http.Request) (member, error) {
	if s.isFromHere(r) {
		return member{isHere: true, isOwner: true}, nil
	}
	for _, one := range tokensOf(r) {
		device, isNoted, err := s.store.DeviceOf(one.token, s.now())
		if errors.Is(err, store.ErrUnknownDevice) {
			continue
		}
		if err == nil && isNoted && one.isCookie {
			setToken(w, r, one.token) // browsers end cookies after some time; this one begins anew
		}
		return member{device: device, isOwner: device.IsOwner}, err
	}
	return member{}, store.ErrUnknownDevice
}

type commandKey struct{}

// CommandHandler is Handler for what has shown already that it is this machine's
// owner: the program's other verbs, who read a token from beside the garage file.
func (s *Site) CommandHandler() http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.handler.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), commandKey{}, true)))
	})
}

// isFromHere reports whether the request was made by this machine's owner:
// where all are to pair, only by the program's other verbs.
func (s *Site) isFromHere(r *http.Request) bool {
	return r.Context().Value(commandKey{}) != nil || !s.pairAll && isFromLoopback(r)
}

// isFromLoopback reports whether the request was made on this machine. One that
// a proxy passed on was not, though the proxy itself may run here: where it says
// so. One that does not say so cannot be told from the owner.
func isFromLoopback(r *http.Request) bool {
	for _, name := range []string{"Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto",
		"X-Real-Ip", "Via"} {
		if r.Header.Get(name) != "" {
			return false
		}
	}
	return addressOf(r).IsLoopback()
}

// addressOf is where the connection comes from; zero when it is unreadable.
func addressOf(r *http.Request) netip.Addr {
	from, err := netip.ParseAddrPort(r.RemoteAddr)
	if err != nil {
		return netip.Addr{}
	}
	return from.Addr().Unmap().WithZone("")
}

func (s *Site) refuseAccess(w http.ResponseWriter, r *http.Request, p calc.Problem) {
	s.log.Warn("refused: "+p.Title, "from", r.RemoteAddr, "method", r.Method, "path", r.URL.Path, "host", r.Host,
		"origin", r.Header.Get("Origin"))
	refuseWith(w, p)
}

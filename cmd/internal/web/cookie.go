package web

import (
	"net/http"
	"strings"
	"time"
)

// A paired browser holds its token in a cookie that no script can read and no
// other site can use. Over TLS its name binds it to this host (RFC 6265bis,
// "__Host-"). Programs may send the token as a bearer instead.
const (
	secureCookie = "__Host-pointsmith"
	plainCookie  = "pointsmith"
	// cookieLife is the longest browsers grant (RFC 6265bis, 400 days); it
	// begins anew with use.
	cookieLife = 400 * 24 * time.Hour
)

// A shown is a token that a request shows.
type shown struct {
	token    string
	isCookie bool
}

// tokensOf reads the tokens a request shows, a bearer first: a program sends it
// on purpose, where a browser sends along what it happens to have, also when
// that has long been revoked. The first that is good counts.
func tokensOf(r *http.Request) (all []shown) {
	kind, token, _ := strings.Cut(r.Header.Get("Authorization"), " ")
	if strings.EqualFold(kind, "Bearer") && token != "" {
		all = append(all, shown{token, false})
	}
	for _, name := range []string{secureCookie, plainCookie} {
		if c, err := r.Cookie(name); err == nil && c.Value != "" {
			all = append(all, shown{c.Value, true})
		}
	}
	return all
}

func setToken(w http.ResponseWriter, r *http.Request, token string) {
	http.SetCookie(w, cookieFor(r, token, int(cookieLife.Seconds())))
}

func clearToken(w http.ResponseWriter, r *http.Request) { http.SetCookie(w, cookieFor(r, "", -1)) }

func cookieFor(r *http.Request, token string, maxAge int) *http.Cookie {
	c := &http.Cookie{Name: plainCookie, Value: token, Path: "/", MaxAge: maxAge, HttpOnly: true,
		SameSite: http.SameSiteStrictMode}
	if r.TLS != nil || strings.HasPrefix(r.Header.Get("Origin"), "https://") { // or something in front took the TLS off
		c.Name, c.Secure = secureCookie, true
	}
	return c
}

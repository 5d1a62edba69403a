package main

import (
	"net"
	"net/url"
	"os"
	"strconv"
	"time"

	"golang.org/x/term"

	"pointsmith/cmd/internal/web"
	"pointsmith/store"
)

// A shownCode is a pairing code to be shown; zero: there is none.
type shownCode struct {
	code  string
	until time.Time
}

func newCodeIn(garage *store.Store, isOwner bool) (shownCode, error) {
	code, until, err := garage.NewCode(isOwner, time.Now())
	return shownCode{code, until}, err
}

func (c shownCode) String() string {
	return store.ShowCode(c.code) + ", good once, until " + c.until.Local().Format("15:04")
}

// announce says where the app is, for this machine and for phones.
func (h house) announce(phones []string, trustPage string, code shownCode) {
	t, port := h.t, strconv.Itoa(h.at.Port)
	if !h.site.HasEngine() {
		t.warn("this program was built without the calculation engine for phones: they ask this server for every calculation and cannot calculate without it; do: run go generate ./... and build again")
	}
	t.say("pointsmith %s", version)
	if h.at.IP.IsUnspecified() || h.at.IP.IsLoopback() {
		t.say("  on this machine   http://%s/", net.JoinHostPort(localName(h.at.IP), port))
	}
	for n, phone := range phones {
		t.say("  %-17s %s/", wayLabel(n, phone), phone)
	}
	h.announceTrust(phones, trustPage)
	if code.code != "" {
		t.say("  pairing code      %s", code)
		t.say("                    type it on the phone; pointsmith pair makes another")
	}
	t.say("  garage file       %s", h.path)
	t.say("  stop with Ctrl-C")
	if len(phones) > 0 && (h.o.wantsQR || isTerminal(t.out)) {
		h.drawCodes(phones[0], trustPage, code)
	}
}

// announceTrust says what phones need before the app can be kept on them.
func (h house) announceTrust(phones []string, trustPage string) {
	switch {
	case len(phones) == 0:
		h.t.say("  on a phone        not from here: give -listen :%d on a machine with a network", h.at.Port)
	case h.secure.config == nil:
		h.t.say("                    over plain http a phone works only within reach of this server;")
		h.t.say("                    pointsmith trust makes https for this house")
	case trustPage != "":
		h.t.say("  first, once       %s  the certificate, and the steps for each kind of phone",
			besidePort(hostOf(phones[0]), trustPage))
		if number := numberAmong(phones[1:]); number != "" && net.ParseIP(hostOf(phones[0])) == nil {
			h.t.say("                    or %s", besidePort(hostOf(number), trustPage))
		}
		h.t.say("  its fingerprint   %s", h.secure.authority.Fingerprint())
	}
}

// wayLabel stands before an address for phones. A number that comes after a
// name is the way for a phone that does not find the name.
func wayLabel(n int, phone string) string {
	if n > 0 && net.ParseIP(hostOf(phone)) != nil {
		return "or by number"
	}
	return "on a phone"
}

// numberAmong is the first of the addresses that is in numbers, "" for none.
func numberAmong(phones []string) string {
	for _, phone := range phones {
		if net.ParseIP(hostOf(phone)) != nil {
			return phone
		}
	}
	return ""
}

// drawCodes draws what a phone scans: first the page with the certificate as
// long as no phone has been here, then the app.
func (h house) drawCodes(phone, trustPage string, code shownCode) {
	if trustPage != "" && code.code != "" {
		h.t.say("\n  first, once on each phone: the certificate")
		drawCode(h.t.out, besidePort(hostOf(phone), trustPage))
		h.t.say("  then: the app, with the pairing code")
	}
	drawCode(h.t.out, joinURL(phone, code.code))
}

// joinURL is the app's address, with the code when there is one.
func joinURL(phone, code string) string {
	if code == "" {
		return phone + "/"
	}
	return phone + web.JoinPath(code)
}

func hostOf(address string) string {
	u, err := url.Parse(address)
	if err != nil {
		return address
	}
	return u.Hostname()
}

func localName(ip net.IP) string {
	if ip.IsLoopback() {
		return ip.String()
	}
	return "localhost"
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

package main

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"slices"
	"strconv"

	"pointsmith/cmd/internal/admin"
	"pointsmith/cmd/internal/door"
	"pointsmith/cmd/internal/web"
	"pointsmith/store"
)

// A house is a server that is about to run: the garage and all its fronts.
type house struct {
	t      terminal
	o      serving
	path   string // of the garage file
	garage *store.Store
	site   *web.Site
	secure security
	at     *net.TCPAddr // the main address
	crowd  *web.Crowd
	log    *slog.Logger
}

// trustPort is where the plain page with the certificate is.
const trustPort = "7374"

// run opens the fronts, says where they are, and serves.
func (h house) run(ctx context.Context, listener net.Listener) error {
	name, giveBack := h.takeName(ctx)
	defer giveBack()
	h.crowd = web.NewCrowd(h.log)
	fronts, trustPage := h.fronts(h.crowd.Guard(listener), name)
	phones := h.phones(name)
	if name != "" {
		h.site.SendTo(h.url(name))
	}
	channel, err := admin.Open(h.path, phones)
	if err != nil {
		h.t.warn("%v; pointsmith pair and backup will not work while this server runs", err)
	} else {
		fronts = append(fronts, web.Front{Listener: channel.Listener, Handler: channel.Guard(h.site.CommandHandler())})
		defer func() {
			if err := channel.Close(); err != nil {
				h.log.Warn("the way for other commands was not closed", "error", err)
			}
		}()
	}
	code, err := h.firstCode(phones)
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	if h.secure.keep != nil {
		go h.secure.keep(ctx)
	}
	h.announce(phones, trustPage, code)
	return web.Serve(ctx, h.log, fronts...)
}

// fronts are the main address and, with the garage's own authority, the plain
// page with its certificate; trustPage is the port of that, "" when there is none.
// name is what phones are sent to, "" for their number.
func (h house) fronts(listener net.Listener, name string) (fronts []web.Front, trustPage string) {
	if h.secure.config == nil {
		return []web.Front{{Listener: listener, Handler: h.site.Handler()}}, ""
	}
	secureHalf, plainHalf := web.Split(listener, h.log)
	main := web.Front{Listener: secureHalf, TLS: h.secure.config, Handler: h.site.Handler()}
	page, trustPage, err := h.trustFront(&main, name)
	if err != nil {
		h.t.warn("no page for the certificate: %v; phones that trust it already are served", err)
	}
	if trustPage != "" {
		fronts = append(fronts, page)
	}
	toPage := func(host string) string { return besidePort(host, trustPage) }
	return append(fronts, main, web.Front{Listener: plainHalf, Handler: h.site.PlainBesideTLS(toPage)}), trustPage
}

// trustFront opens the plain page, which lets main note who arrives there.
func (h house) trustFront(main *web.Front, name string) (page web.Front, port string, err error) {
	if h.secure.authority == nil || h.o.trustPage == "off" {
		return web.Front{}, "", nil
	}
	d, err := door.New(h.secure.authority, strconv.Itoa(h.at.Port), name, h.site.IsOwnHost)
	if err != nil {
		return web.Front{}, "", err
	}
	address := h.o.trustPage
	if address == "" {
		host, _, _ := net.SplitHostPort(h.o.listen) // it was listened at already
		address = net.JoinHostPort(host, trustPort)
	}
	listener, err := net.Listen("tcp", address)
	if err != nil {
		return web.Front{}, "", err
	}
	main.Handler = d.OverTLS(main.Handler)
	port = strconv.Itoa(listener.Addr().(*net.TCPAddr).Port)
	return web.Front{Listener: h.crowd.Guard(listener), Handler: d.Handler()}, port, nil
}

// besidePort is the plain address of the same host at another port; "" for
// port "".
func besidePort(host, port string) string {
	if port == "" {
		return ""
	}
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return "http://" + net.JoinHostPort(host, port) + "/"
}

// phones are the addresses of the app for phones, the likeliest first: names
// that were given for it, the one that is answered on the network, then
// addresses in numbers.
func (h house) phones(name string) []string {
	reachable := append(slices.Clone(h.o.hosts), h.secure.hosts...)
	if name != "" && !slices.Contains(reachable, name) {
		reachable = append(reachable, name)
	}
	if len(h.secure.hosts) == 0 { // a certificate from elsewhere holds for names, not for numbers
		for _, ip := range phoneAddresses(h.at.IP) {
			reachable = append(reachable, ip.String())
		}
	}
	var all []string
	for _, name := range reachable {
		if h.secure.holdsFor == nil || h.secure.holdsFor(name) {
			all = append(all, h.url(name))
		}
	}
	if len(all) == 0 && len(reachable) > 0 {
		h.t.warn("no phone can come: the authority may not vouch for %s; do: make one that may, with pointsmith trust -new -host %s", reachable[0], reachable[0])
	}
	return all
}

// url is where the app begins by that name.
func (h house) url(name string) string {
	return h.secure.scheme() + "://" + net.JoinHostPort(name, strconv.Itoa(h.at.Port))
}

// firstCode opens a code when others may come and none has been here yet.
func (h house) firstCode(phones []string) (shownCode, error) {
	devices, err := h.garage.Devices()
	if err != nil || len(phones) == 0 && !h.o.pairsAll {
		return shownCode{}, err
	}
	for _, d := range devices {
		if !d.SeenAt.IsZero() {
			return shownCode{}, nil
		}
	}
	return newCodeIn(h.garage, true)
}

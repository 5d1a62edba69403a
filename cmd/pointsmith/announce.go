package main

import (
	"net"
	"os"
	"strconv"

	"golang.org/x/term"

	"pointsmith/cmd/internal/web"
)

// announce says where the app is, for this machine and for phones.
func announce(t terminal, site *web.Site, at net.Addr, garage string, wantsQR bool) {
	if !site.HasEngine() {
		t.warn("this program was built without the calculation engine for phones: they ask this server for every calculation and cannot calculate without it; do: run go generate ./... and build again")
	}
	address := at.(*net.TCPAddr)
	port := strconv.Itoa(address.Port)
	t.say("pointsmith %s", version)
	if address.IP.IsUnspecified() || address.IP.IsLoopback() {
		t.say("  on this machine   http://%s/", net.JoinHostPort(localName(address.IP), port))
	}
	phones := phoneAddresses(address.IP)
	for _, ip := range phones {
		t.say("  on a phone        %s", joinURL(ip, port, site.AccessKey()))
	}
	if len(phones) == 0 {
		t.say("  on a phone        not from here: give -listen :%s on a machine with a network", port)
	} else {
		t.say("                    over plain http a phone works only within reach of this server")
	}
	t.say("  garage file       %s", garage)
	t.say("  stop with Ctrl-C")
	if len(phones) > 0 && (wantsQR || isTerminal(t.out)) {
		drawCode(t.out, joinURL(phones[0], port, site.AccessKey()))
	}
}

// joinURL carries the garage's key behind the #, which no browser sends on.
func joinURL(ip net.IP, port, key string) string {
	return "http://" + net.JoinHostPort(ip.String(), port) + "/#/join/" + key
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

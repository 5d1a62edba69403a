package main

import (
	"context"
	"errors"
	"net"
	"net/netip"
	"regexp"
	"slices"
	"strings"

	"pointsmith/cmd/internal/localname"
)

// defaultName is the same on every machine, so that it stays when the garage
// moves to another laptop.
const defaultName = "pointsmith"

// A networkName is the name under .local that is answered; "" for none.
type networkName string

// aLabel: RFC 1123, section 2.1.
var aLabel = regexp.MustCompile(`^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$`)

func (n *networkName) String() string { return string(*n) }

func (n *networkName) Set(given string) error {
	label := strings.TrimSuffix(strings.ToLower(given), ".local")
	if !aLabel.MatchString(label) {
		return errors.New("a name here is one word of letters, digits and hyphens, at most 63, as garage")
	}
	if *n = networkName(label); label == "off" {
		*n = ""
	}
	return nil
}

// flags are those of serve that say this name, where it is not the usual one.
func (n networkName) flags() []string {
	switch n {
	case defaultName:
		return nil
	case "":
		return []string{"-name", "off"}
	}
	return []string{"-name", string(n)}
}

// hosts is the whole name, as the certificate and the site know it.
func (n networkName) hosts() []string {
	if n == "" {
		return nil
	}
	return []string{string(n) + ".local"}
}

// networks are the interfaces of this machine at which phones may ask for a
// server that listens at ip.
func networks(ip net.IP) (all []localname.Network) {
	interfaces, err := net.Interfaces()
	if err != nil || ip.IsLoopback() {
		return nil
	}
	for _, i := range interfaces {
		if i.Flags&net.FlagUp == 0 || i.Flags&net.FlagMulticast == 0 || i.Flags&net.FlagLoopback != 0 ||
			isInsideOnly(i.Name) {
			continue
		}
		if n := (localname.Network{Interface: i, Addresses: addressesOf(i, ip)}); len(n.Addresses) > 0 {
			all = append(all, n)
		}
	}
	return all
}

// addressesOf are the addresses of an interface for a server that listens at
// ip; none when phones have no number there.
func addressesOf(i net.Interface, ip net.IP) (all []netip.Addr) {
	assigned, err := i.Addrs()
	if err != nil {
		return nil
	}
	for _, a := range assigned {
		n, ok := a.(*net.IPNet)
		if !ok {
			continue
		}
		address, ok := netip.AddrFromSlice(n.IP)
		if ok && (ip.IsUnspecified() || ip.Equal(n.IP)) {
			all = append(all, address.Unmap())
		}
	}
	hasNumber := slices.ContainsFunc(all, func(a netip.Addr) bool { return a.Is4() && a.IsGlobalUnicast() })
	if ip.IsUnspecified() && !hasNumber {
		return nil
	}
	return all
}

// takeName has the name answered while the server runs, and says when it is
// not. It gives "" then, and where the certificate does not hold for the name.
// giveBack ends it, however the server ended.
func (h house) takeName(ctx context.Context) (name string, giveBack func()) {
	hosts := h.o.name.hosts()
	if len(hosts) == 0 || h.at.IP.IsLoopback() || !h.secure.mayBe(hosts[0]) {
		return "", func() {}
	}
	name = hosts[0]
	o := localname.Options{Name: name, Log: h.log, Moved: h.secure.look,
		Networks: func() []localname.Network { return networks(h.at.IP) },
		Service: localname.Service{Instance: string(h.o.name), Type: "_" + h.secure.scheme() + "._tcp",
			Port: h.at.Port}}
	if !h.at.IP.IsUnspecified() {
		only, _ := netip.AddrFromSlice(h.at.IP)
		o.Only = only.Unmap()
	}
	ctx, stop := context.WithCancel(ctx)
	responder := localname.Begin(ctx, o)
	state := responder.First()
	h.sayName(name, state)
	if !state.Answers {
		name = ""
	}
	return name, func() {
		stop()
		responder.Wait()
	}
}

// sayName says why phones are sent to a number instead of the name.
func (h house) sayName(name string, s localname.State) {
	const instead = "phones get the address in numbers, which a router may change"
	switch {
	case s.Answers && len(s.Others) == 0:
	case s.Answers:
		h.t.warn("%s is the name of another machine too, at %s; do: %s", name, listed(s.Others), s.Do())
	case len(s.Others) > 0:
		h.t.warn("%s is the name of another machine, at %s; %s; do: %s", name, listed(s.Others), instead, s.Do())
	case errors.Is(s.Trouble, localname.ErrNoNetwork) && len(phoneAddresses(h.at.IP)) == 0:
		// that there is no network is said already
	case !errors.Is(s.Trouble, context.Canceled):
		h.t.warn("%s does not answer here: %v; %s; do: %s", name, s.Trouble, instead, s.Do())
	}
}

func listed(all []netip.Addr) string {
	var words []string
	for _, a := range all {
		words = append(words, a.String())
	}
	return strings.Join(words, ", ")
}

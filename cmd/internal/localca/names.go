package localca

import (
	"net"
	"net/netip"
	"os"
	"slices"
	"strings"
)

// Names are what a machine is known by in the house.
type Names struct {
	Hosts     []string
	Addresses []netip.Addr
}

// MachineName is this machine's name, or "localhost" when it will not say.
func MachineName() string {
	name, err := os.Hostname()
	if err != nil || plainName(name) == "" {
		return "localhost"
	}
	return plainName(name)
}

// NamesHere gives the names and addresses of this machine just now, and the
// further ones given, which may be addresses.
func NamesHere(given []string) Names {
	machine := MachineName()
	short, _, _ := strings.Cut(machine, ".")
	n := Names{Hosts: []string{"localhost", machine, short + ".local"}}
	n.Addresses = []netip.Addr{netip.AddrFrom4([4]byte{127, 0, 0, 1}), netip.IPv6Loopback()}
	if interfaces, err := net.InterfaceAddrs(); err == nil {
		for _, a := range interfaces {
			if prefix, err := netip.ParsePrefix(a.String()); err == nil {
				n.Addresses = append(n.Addresses, prefix.Addr().Unmap().WithZone(""))
			}
		}
	}
	for _, name := range given {
		if ip, err := netip.ParseAddr(name); err == nil {
			n.Addresses = append(n.Addresses, ip)
		} else if name = plainName(name); name != "" {
			n.Hosts = append(n.Hosts, name)
		}
	}
	return n.sorted()
}

// within splits the names into those the limits allow and those they do not.
func (n Names) within(l Limits) (allowed, refused Names) {
	for _, host := range n.Hosts {
		to := &refused
		if l.MayName(host) {
			to = &allowed
		}
		to.Hosts = append(to.Hosts, host)
	}
	for _, ip := range n.Addresses {
		to := &refused
		if l.MayServe(ip) {
			to = &allowed
		}
		to.Addresses = append(to.Addresses, ip)
	}
	return allowed.sorted(), refused.sorted()
}

func (n Names) sorted() Names {
	slices.Sort(n.Hosts)
	slices.SortFunc(n.Addresses, netip.Addr.Compare)
	return Names{slices.Compact(n.Hosts), slices.Compact(n.Addresses)}
}

func (n Names) equal(other Names) bool {
	return slices.Equal(n.Hosts, other.Hosts) && slices.Equal(n.Addresses, other.Addresses)
}

// String lists everything.
func (n Names) String() string {
	all := slices.Clone(n.Hosts)
	for _, ip := range n.Addresses {
		all = append(all, ip.String())
	}
	return strings.Join(all, ", ")
}

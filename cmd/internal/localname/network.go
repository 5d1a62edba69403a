package localname

import (
	"net"
	"net/netip"
	"slices"
)

// A Network is an interface of this machine, and the addresses that others
// there may reach it at.
type Network struct {
	Interface net.Interface
	Addresses []netip.Addr
}

func isSame(a, b []Network) bool {
	return slices.EqualFunc(a, b, func(a, b Network) bool {
		return a.Interface.Index == b.Interface.Index && a.Interface.Name == b.Interface.Name &&
			slices.Equal(a.Addresses, b.Addresses)
	})
}

// others are the addresses among found that are not of this machine, each once.
func others(found []netip.Addr) (foreign []netip.Addr) {
	own := ownAddresses()
	for _, a := range found {
		if !slices.Contains(own, a) {
			foreign = append(foreign, a)
		}
	}
	slices.SortFunc(foreign, netip.Addr.Compare)
	return slices.Compact(foreign)
}

func hasOthers(found []netip.Addr) bool { return len(others(found)) > 0 }

func hasOwn(found []netip.Addr) bool {
	own := ownAddresses()
	return slices.ContainsFunc(found, func(a netip.Addr) bool { return slices.Contains(own, a) })
}

func ownAddresses() (own []netip.Addr) {
	assigned, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	for _, a := range assigned {
		if prefix, err := netip.ParsePrefix(a.String()); err == nil {
			own = append(own, prefix.Addr().Unmap())
		}
	}
	return own
}

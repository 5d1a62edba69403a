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
	own, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	for _, a := range found {
		isOwn := slices.ContainsFunc(own, func(o net.Addr) bool {
			prefix, err := netip.ParsePrefix(o.String())
			return err == nil && prefix.Addr().Unmap() == a
		})
		if !isOwn {
			foreign = append(foreign, a)
		}
	}
	slices.SortFunc(foreign, netip.Addr.Compare)
	return slices.Compact(foreign)
}

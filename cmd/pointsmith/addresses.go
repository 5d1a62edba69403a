package main

import (
	"net"
	"slices"
	"strings"
)

// phoneAddresses are the addresses at which a phone in the house may reach a
// server that listens at ip; the likeliest comes first.
func phoneAddresses(ip net.IP) []net.IP {
	switch {
	case ip.IsLoopback():
		return nil
	case !ip.IsUnspecified():
		return []net.IP{ip}
	}
	interfaces, err := net.Interfaces()
	if err != nil {
		return nil
	}
	var found []net.IP
	for _, i := range interfaces {
		if i.Flags&net.FlagUp == 0 || i.Flags&net.FlagLoopback != 0 || isInsideOnly(i.Name) {
			continue
		}
		addresses, err := i.Addrs()
		if err != nil {
			continue
		}
		for _, a := range addresses {
			if n, ok := a.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsGlobalUnicast() {
				found = append(found, n.IP)
			}
		}
	}
	preferred := outwardAddress()
	slices.SortStableFunc(found, func(a, b net.IP) int { return rank(a, preferred) - rank(b, preferred) })
	return found
}

// isInsideOnly: bridges between programs on this machine lead to no phone.
func isInsideOnly(name string) bool {
	for _, prefix := range []string{"docker", "br-", "veth", "virbr", "cni", "flannel"} {
		if strings.HasPrefix(name, prefix) {
			return true
		}
	}
	return false
}

func rank(ip, preferred net.IP) int {
	switch {
	case ip.Equal(preferred):
		return 0
	case ip.IsPrivate():
		return 1
	}
	return 2
}

// outwardAddress is the address this machine would use to reach others. The
// far end (RFC 5737, for documentation) is never spoken to: opening a UDP
// socket sends nothing.
func outwardAddress() net.IP {
	conn, err := net.Dial("udp4", "192.0.2.1:9")
	if err != nil {
		return nil
	}
	defer conn.Close()
	return conn.LocalAddr().(*net.UDPAddr).IP
}

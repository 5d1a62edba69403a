package localca

import (
	"crypto/x509"
	"net"
	"net/netip"
	"slices"
	"strings"
)

// Limits are what an authority may vouch for.
type Limits struct {
	Domains  []string // these names and all under them
	Networks []netip.Prefix
}

// Names that never lead to the internet: multicast DNS (RFC 6762), home
// networks (RFC 8375), private use (.internal, reserved by ICANN in 2024), and
// this machine (RFC 6761).
var houseDomains = []string{"local", "home.arpa", "internal", "localhost"}

// Addresses that never lead there: private (RFC 1918, RFC 4193), loopback and
// link-local (RFC 1122, RFC 3927, RFC 4291).
var houseNetworks = []netip.Prefix{
	netip.MustParsePrefix("10.0.0.0/8"), netip.MustParsePrefix("172.16.0.0/12"),
	netip.MustParsePrefix("192.168.0.0/16"),
	netip.MustParsePrefix("127.0.0.0/8"), netip.MustParsePrefix("169.254.0.0/16"),
	netip.MustParsePrefix("fc00::/7"), netip.MustParsePrefix("fe80::/10"), netip.MustParsePrefix("::1/128"),
}

func limitsFor(machine string, names []string) Limits {
	l := Limits{slices.Clone(houseDomains), slices.Clone(houseNetworks)}
	for _, name := range append([]string{machine}, names...) {
		if ip, err := netip.ParseAddr(name); err == nil {
			if !l.MayServe(ip) {
				l.Networks = append(l.Networks, netip.PrefixFrom(ip, ip.BitLen()))
			}
		} else if name = plainName(name); name != "" && !l.MayName(name) {
			l.Domains = append(l.Domains, name)
		}
	}
	return l
}

// noMailHost is the one host whose mailboxes an authority may vouch for: where
// none is named all are allowed, and this one is nobody's for ever (RFC 2606).
const noMailHost = "invalid"

func (l Limits) applyTo(c *x509.Certificate) {
	c.PermittedDNSDomainsCritical = true // the whole extension, the mailboxes too
	c.PermittedEmailAddresses = []string{noMailHost}
	c.PermittedDNSDomains = l.Domains
	for _, n := range l.Networks {
		c.PermittedIPRanges = append(c.PermittedIPRanges,
			&net.IPNet{IP: n.Addr().AsSlice(), Mask: net.CIDRMask(n.Bits(), n.Addr().BitLen())})
	}
}

// Limits reads back from the certificate what the authority may vouch for.
func (a *Authority) Limits() Limits {
	l := Limits{Domains: a.Certificate.PermittedDNSDomains}
	for _, n := range a.Certificate.PermittedIPRanges {
		if ip, ok := netip.AddrFromSlice(n.IP); ok {
			bits, _ := n.Mask.Size()
			l.Networks = append(l.Networks, netip.PrefixFrom(ip.Unmap(), bits))
		}
	}
	return l
}

// IsForServersAlone reports whether the certificate itself says that it vouches
// for nothing but servers: no mail, no programs. Older authorities do not say
// so; they go on working, and their limits are for good.
func (a *Authority) IsForServersAlone() bool {
	c := a.Certificate
	return slices.Equal(c.ExtKeyUsage, []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}) &&
		slices.Equal(c.PermittedEmailAddresses, []string{noMailHost})
}

// MayName reports whether a name is within the limits.
func (l Limits) MayName(name string) bool {
	name = plainName(name)
	return name != "" && slices.ContainsFunc(l.Domains, func(d string) bool {
		return name == d || strings.HasSuffix(name, "."+d)
	})
}

// MayServe reports whether an address is within the limits.
func (l Limits) MayServe(ip netip.Addr) bool {
	ip = ip.Unmap().WithZone("")
	return slices.ContainsFunc(l.Networks, func(n netip.Prefix) bool { return n.Contains(ip) })
}

// MayVouchFor reports whether a name, or an address in numbers, is within the
// authority's limits.
func (a *Authority) MayVouchFor(name string) bool {
	if ip, err := netip.ParseAddr(name); err == nil {
		return a.Limits().MayServe(ip)
	}
	return a.Limits().MayName(name)
}

// plainName is a name as certificates carry it, or "" when it is none: small
// letters, digits, dashes and dots. Machines may be called otherwise.
func plainName(name string) string {
	name = strings.ToLower(strings.TrimSuffix(name, "."))
	if name == "" || len(name) > 253 {
		return ""
	}
	for label := range strings.SplitSeq(name, ".") {
		if label == "" || len(label) > 63 || strings.Trim(label, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" ||
			strings.Trim(label, "-") != label {
			return ""
		}
	}
	return name
}

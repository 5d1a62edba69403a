package localname

import (
	"net/netip"
	"strings"

	"golang.org/x/net/dns/dnsmessage"
)

const (
	nameTTL = 120 // seconds; RFC 6762, section 10, for addresses
	// forget tells others to drop what they knew before (section 10.2).
	forget = dnsmessage.Class(1 << 15)
)

// questionFor asks for the addresses of a name.
func questionFor(name string) ([]byte, error) {
	packed, err := dnsmessage.NewName(name + ".")
	if err != nil {
		return nil, err
	}
	m := dnsmessage.Message{Questions: []dnsmessage.Question{
		{Name: packed, Type: dnsmessage.TypeA, Class: dnsmessage.ClassINET},
		{Name: packed, Type: dnsmessage.TypeAAAA, Class: dnsmessage.ClassINET},
	}}
	return m.Pack()
}

// newsOf tells that a name has these addresses and no others, and that it
// offers the service; with ttl 0 that all of it is gone.
func newsOf(name string, addresses []netip.Addr, service Service, ttl uint32) ([]byte, error) {
	packed, err := dnsmessage.NewName(name + ".")
	if err != nil {
		return nil, err
	}
	m := dnsmessage.Message{Header: dnsmessage.Header{Response: true, Authoritative: true}}
	for _, a := range addresses {
		header := dnsmessage.ResourceHeader{Name: packed, Type: dnsmessage.TypeAAAA,
			Class: dnsmessage.ClassINET | forget, TTL: ttl}
		var body dnsmessage.ResourceBody
		if a.Is4() {
			header.Type = dnsmessage.TypeA
			body = &dnsmessage.AResource{A: a.As4()}
		} else {
			body = &dnsmessage.AAAAResource{AAAA: a.As16()}
		}
		m.Answers = append(m.Answers, dnsmessage.Resource{Header: header, Body: body})
	}
	kind, err := dnsmessage.NewName(service.Type + ".local.")
	if err != nil {
		return nil, err
	}
	instance, err := dnsmessage.NewName(service.Instance + "." + service.Type + ".local.")
	if err != nil {
		return nil, err
	}
	m.Answers = append(m.Answers, dnsmessage.Resource{
		Header: dnsmessage.ResourceHeader{Name: kind, Type: dnsmessage.TypePTR, Class: dnsmessage.ClassINET, TTL: ttl},
		Body:   &dnsmessage.PTRResource{PTR: instance},
	})
	return m.Pack()
}

// addressesIn are the addresses that a packet says a name has. What is not an
// answer, not about the name, or takes an address back says none.
func addressesIn(packet []byte, name string) (found []netip.Addr) {
	var m dnsmessage.Message
	if m.Unpack(packet) != nil || !m.Response {
		return nil
	}
	for _, answer := range m.Answers {
		if answer.Header.TTL == 0 || !strings.EqualFold(answer.Header.Name.String(), name+".") {
			continue
		}
		switch body := answer.Body.(type) {
		case *dnsmessage.AResource:
			found = append(found, netip.AddrFrom4(body.A))
		case *dnsmessage.AAAAResource:
			found = append(found, netip.AddrFrom16(body.AAAA).Unmap())
		}
	}
	return found
}

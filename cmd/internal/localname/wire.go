package localname

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/netip"
	"os"
	"syscall"
	"time"

	"golang.org/x/net/ipv4"
	"golang.org/x/net/ipv6"
)

const (
	port     = 5353
	mostHops = 255 // RFC 6762, section 11
)

var (
	group     = &net.UDPAddr{IP: net.IPv4(224, 0, 0, 251), Port: port}
	groupIPv6 = &net.UDPAddr{IP: net.ParseIP("ff02::fb"), Port: port}
)

// open takes port 5353 beside whatever else listens there: net.ListenUDP lets
// others share the port when it is given a multicast address.
func open() (*ipv4.PacketConn, error) {
	conn, err := net.ListenUDP("udp4", group)
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, fmt.Errorf("another program keeps UDP port %d to itself", port)
	}
	if err != nil {
		return nil, fmt.Errorf("UDP port %d cannot be used: %w", port, err)
	}
	p := ipv4.NewPacketConn(conn)
	if err := errors.Join(p.SetMulticastTTL(mostHops), p.SetMulticastLoopback(true)); err != nil {
		return nil, errors.Join(fmt.Errorf("multicast cannot be set up: %w", err), p.Close())
	}
	return p, nil
}

// openIPv6 is nil where there is no IPv6.
func openIPv6() *ipv6.PacketConn {
	conn, err := net.ListenUDP("udp6", groupIPv6)
	if err != nil {
		return nil
	}
	p := ipv6.NewPacketConn(conn)
	_ = p.SetMulticastHopLimit(mostHops) // it is answered with another limit too
	_ = p.SetMulticastLoopback(true)
	return p
}

// A wire asks for a name and tells of it, over a socket of its own.
type wire struct {
	conn     *ipv4.PacketConn
	networks []Network // those that joined the group
}

// openWire joins the group on each network; one that cannot is left out.
func openWire(networks []Network) (wire, error) {
	conn, err := open()
	if err != nil {
		return wire{}, err
	}
	w := wire{conn: conn}
	for _, n := range networks {
		if err = conn.JoinGroup(&n.Interface, group); err == nil {
			w.networks = append(w.networks, n)
		}
	}
	if len(w.networks) == 0 {
		return wire{}, errors.Join(fmt.Errorf("no network here takes part in multicast: %w", err), conn.Close())
	}
	return w, nil
}

func (w wire) close() { _ = w.conn.Close() }

// send puts on each network what packet makes for it. It fails when it could
// be sent on none.
func (w wire) send(packet func(Network) ([]byte, error)) error {
	var sent int
	var last error
	for _, n := range w.networks {
		text, err := packet(n)
		if err == nil {
			err = w.conn.SetMulticastInterface(&n.Interface)
		}
		if err == nil {
			_, err = w.conn.WriteTo(text, nil, group)
		}
		if err != nil {
			last = err
			continue
		}
		sent++
	}
	if sent == 0 {
		return fmt.Errorf("nothing can be sent by multicast: %w", last)
	}
	return nil
}

// ask asks for a name up to times, wait apart, and gathers the addresses that
// are answered, until enough says it is.
func (w wire) ask(ctx context.Context, name string, times int, wait time.Duration,
	enough func([]netip.Addr) bool) (found []netip.Addr, err error) {
	question, err := questionFor(name)
	if err != nil {
		return nil, err
	}
	for range times {
		if err := w.send(func(Network) ([]byte, error) { return question, nil }); err != nil {
			return found, err
		}
		for until := time.Now().Add(wait); ctx.Err() == nil; {
			said, err := w.hear(name, until)
			if errors.Is(err, os.ErrDeadlineExceeded) {
				break
			}
			if err != nil {
				return found, fmt.Errorf("nothing can be heard by multicast: %w", err)
			}
			found = append(found, said...)
			if enough(found) {
				return found, nil
			}
		}
	}
	return found, ctx.Err()
}

// hear waits for one packet and gives the addresses it says the name has.
func (w wire) hear(name string, until time.Time) ([]netip.Addr, error) {
	if err := w.conn.SetReadDeadline(until); err != nil {
		return nil, err
	}
	packet := make([]byte, 9000) // RFC 6762, section 17
	n, _, from, err := w.conn.ReadFrom(packet)
	if err != nil {
		return nil, err
	}
	if sender, ok := from.(*net.UDPAddr); !ok || sender.Port != port { // section 6: nobody may answer from elsewhere
		return nil, nil
	}
	return addressesIn(packet[:n], name), nil
}

// tell says on each network which addresses the name has there, and what it
// stands for.
func (w wire) tell(name string, service Service, ttl uint32) error {
	return w.send(func(n Network) ([]byte, error) { return newsOf(name, n.Addresses, service, ttl) })
}

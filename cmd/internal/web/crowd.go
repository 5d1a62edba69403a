package web

import (
	"crypto/tls"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"sync"
)

// How many connections there are at a time. Most systems grant a program 1,024
// open files: half of them leave room for the garage file, its copies and the
// way for other commands. A browser holds six at most, so one address has room
// for ten phones behind one router. Some of all are left for this machine,
// whose owner must get in to see what goes on.
const (
	mostConnections = 512
	mostFromOne     = 64
	keptForHere     = 32
)

// A Crowd counts the connections of all its listeners. Where there is no room
// for one more, one that has nothing to say (the one that has been silent
// longest) is closed for it; where all are at work the new one is closed, and
// the log says so. This machine is counted in all, and not by itself.
type Crowd struct {
	log           *slog.Logger
	most, fromOne int
	left          int // for this machine
	mu            sync.Mutex
	guests        map[*guest]bool
	from          map[netip.Prefix]int
	silences      uint64 // counts up: the order in which guests fell silent
}

// NewCrowd makes one that is empty.
func NewCrowd(log *slog.Logger) *Crowd {
	return &Crowd{log: log, most: mostConnections, fromOne: mostFromOne, left: keptForHere,
		guests: map[*guest]bool{}, from: map[netip.Prefix]int{}}
}

// Guard gives a listener whose connections are counted. Serve tells them when
// they are at work.
func (c *Crowd) Guard(listener net.Listener) net.Listener { return &guarded{listener, c} }

type guarded struct {
	net.Listener
	crowd *Crowd
}

// Accept waits for the next connection there is room for.
func (l *guarded) Accept() (net.Conn, error) {
	for {
		conn, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		if g := l.crowd.let(conn); g != nil {
			return g, nil
		}
		l.crowd.log.Warn("a connection was refused: there are too many", "from", conn.RemoteAddr().String(),
			"limit", l.crowd.most, "from one address", l.crowd.fromOne)
		_ = conn.Close()
	}
}

// A guest is a connection that is counted.
type guest struct {
	net.Conn
	crowd  *Crowd
	from   netip.Prefix
	isHere bool
	silent uint64 // when it fell silent, 0 while it is at work
}

// let takes a connection in; nil: there is no room.
func (c *Crowd) let(conn net.Conn) *guest {
	g := &guest{Conn: conn, crowd: c}
	if at, err := netip.ParseAddrPort(conn.RemoteAddr().String()); err == nil {
		ip := at.Addr().Unmap().WithZone("")
		g.from, g.isHere = householdOf(ip), ip.IsLoopback()
	}
	c.mu.Lock()
	var out []*guest
	defer func() {
		c.mu.Unlock()
		for _, one := range out {
			_ = one.Conn.Close()
		}
	}()
	if !g.isHere && c.from[g.from] >= c.fromOne {
		one := c.longestSilent(func(other *guest) bool { return other.from == g.from })
		if one == nil {
			return nil
		}
		out = append(out, one)
		c.remove(one)
	}
	most := c.most
	if !g.isHere {
		most -= c.left
	}
	if len(c.guests) >= most {
		one := c.longestSilent(func(*guest) bool { return true })
		if one == nil {
			return nil
		}
		out = append(out, one)
		c.remove(one)
	}
	c.guests[g] = true
	c.from[g.from]++
	c.fallsSilent(g) // until it has asked for something
	return g
}

func (c *Crowd) fallsSilent(g *guest) {
	c.silences++
	g.silent = c.silences
}

func (c *Crowd) longestSilent(among func(*guest) bool) (first *guest) {
	for g := range c.guests {
		if g.silent > 0 && among(g) && (first == nil || g.silent < first.silent) {
			first = g
		}
	}
	return first
}

func (c *Crowd) remove(g *guest) {
	if !c.guests[g] {
		return
	}
	delete(c.guests, g)
	if c.from[g.from]--; c.from[g.from] == 0 {
		delete(c.from, g.from)
	}
}

// Close ends the connection and makes room.
func (g *guest) Close() error {
	g.crowd.mu.Lock()
	g.crowd.remove(g)
	g.crowd.mu.Unlock()
	return g.Conn.Close()
}

// CloseWrite lets the other end read to the end why it is turned away.
func (g *guest) CloseWrite() error { return closeWrite(g.Conn) }

func closeWrite(conn net.Conn) error {
	if c, can := conn.(interface{ CloseWrite() error }); can {
		return c.CloseWrite()
	}
	return nil
}

// noteState tells the guest inside a connection whether it is at work.
func noteState(conn net.Conn, state http.ConnState) {
	for {
		switch c := conn.(type) {
		case *tls.Conn:
			conn = c.NetConn()
		case *unread:
			conn = c.Conn
		case *guest:
			c.crowd.mu.Lock()
			defer c.crowd.mu.Unlock()
			switch state {
			case http.StateActive:
				c.silent = 0
			case http.StateIdle:
				c.crowd.fallsSilent(c)
			}
			return
		default:
			return
		}
	}
}

package localca

import (
	"context"
	"crypto/tls"
	"fmt"
	"log/slog"
	"net"
	"net/netip"
	"slices"
	"sync"
	"time"
)

const (
	renewBefore = 30 * 24 * time.Hour // of the leaf's end
	lookEvery   = time.Hour           // whether it is due, or the names have changed
	lookAgain   = 10 * time.Second    // at least between two looks a connection asks for
)

// A Keeper holds the leaf a server shows and renews it: when less than thirty
// days of its life are left, and when the machine's names or addresses have
// changed. Leaves live in memory only; each start has a new one.
type Keeper struct {
	authority *Authority
	names     func() Names
	now       func() time.Time
	log       *slog.Logger

	mu     sync.Mutex
	leaf   *tls.Certificate
	of     Names // what leaf was issued for
	looked time.Time
}

// NewKeeper issues the first leaf. names is asked for the machine's names at
// every look; now is the clock.
func NewKeeper(a *Authority, names func() Names, now func() time.Time, log *slog.Logger) (*Keeper, error) {
	k := &Keeper{authority: a, names: names, now: now, log: log}
	if left := a.Certificate.NotAfter.Sub(now()); left <= 0 || now().Before(a.Certificate.NotBefore) {
		return nil, fmt.Errorf("the garage's authority holds from %s to %s, and by this machine's clock it is %s; do: set the clock, or make a new authority with pointsmith trust -new",
			day(a.Certificate.NotBefore), day(a.Certificate.NotAfter), day(now()))
	}
	if err := k.Look(); err != nil {
		return nil, err
	}
	return k, nil
}

// Look renews the leaf if that is due. When it fails the leaf before stays.
func (k *Keeper) Look() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.look()
}

func (k *Keeper) look() error {
	now := k.now()
	k.looked = now
	allowed, refused := k.names().within(k.authority.Limits())
	if k.leaf != nil && allowed.equal(k.of) && now.Before(k.leaf.Leaf.NotAfter.Add(-renewBefore)) {
		return nil
	}
	leaf, err := k.authority.issue(allowed, now)
	if err != nil {
		return err
	}
	if k.leaf != nil {
		k.log.Info("certificate renewed", "for", allowed.String(), "until", day(leaf.Leaf.NotAfter),
			"outside the authority's limits", refused.String())
	}
	k.leaf, k.of = leaf, allowed
	return nil
}

// Left tells how long the authority itself will last.
func (k *Keeper) Left() time.Duration { return k.authority.Certificate.NotAfter.Sub(k.now()) }

// HoldsFor reports whether the leaf holds for a name or an address.
func (k *Keeper) HoldsFor(name string) bool {
	k.mu.Lock()
	defer k.mu.Unlock()
	if ip, err := netip.ParseAddr(name); err == nil {
		return slices.Contains(k.of.Addresses, ip)
	}
	return slices.Contains(k.of.Hosts, plainName(name))
}

// Keep looks every hour until ctx ends.
func (k *Keeper) Keep(ctx context.Context) {
	ticker := time.NewTicker(lookEvery)
	defer ticker.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-ticker.C:
			k.LookNow()
		}
	}
}

// LookNow is Look for who cannot mend what fails: it is logged.
func (k *Keeper) LookNow() {
	if err := k.Look(); err != nil {
		k.log.Error("the certificate could not be renewed; the one before is still shown", "error", err)
	}
}

// GetCertificate is for tls.Config. A connection that came in at an address
// the leaf does not hold for is a sign that the machine moved: then it looks.
func (k *Keeper) GetCertificate(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	isDue := k.now().After(k.leaf.Leaf.NotAfter.Add(-renewBefore)) || !k.holdsFor(hello.Conn)
	if isDue && k.now().Sub(k.looked).Abs() >= lookAgain {
		if err := k.look(); err != nil {
			k.log.Error("the certificate could not be renewed; the one before is still shown", "error", err)
		}
	}
	return k.leaf, nil
}

func (k *Keeper) holdsFor(conn net.Conn) bool {
	if conn == nil {
		return true
	}
	at, err := netip.ParseAddrPort(conn.LocalAddr().String())
	return err != nil || at.Addr().Unmap().IsLoopback() ||
		slices.Contains(k.of.Addresses, at.Addr().Unmap().WithZone(""))
}

func day(t time.Time) string { return t.UTC().Format(time.DateOnly) }

package localca

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"log/slog"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

var silent = slog.New(slog.DiscardHandler)

// A workshop is a machine whose clock and names a test turns.
type workshop struct {
	now   time.Time
	names Names
}

func newKeeper(t *testing.T, w *workshop) *Keeper {
	t.Helper()
	a, _ := makeAuthority(t)
	k, err := NewKeeper(a, func() Names { return w.names }, func() time.Time { return w.now }, silent)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func shown(t *testing.T, k *Keeper, conn net.Conn) *x509.Certificate {
	t.Helper()
	c, err := k.GetCertificate(&tls.ClientHelloInfo{Conn: conn})
	if err != nil {
		t.Fatal(err)
	}
	return c.Leaf
}

func TestTheLeafIsRenewedInItsLastThirtyDays(t *testing.T) {
	w := &workshop{noon, Names{Hosts: []string{"garage.local"}}}
	k := newKeeper(t, w)
	first := shown(t, k, nil)
	if left := first.NotAfter.Sub(noon); left != 90*24*time.Hour {
		t.Errorf("lasts %v", left)
	}
	for _, step := range []struct {
		days    int
		isAsked bool // by the hourly look, not by a connection
		want    bool
	}{{1, true, false}, {59, true, false}, {59, false, false}, {61, true, true}, {62, true, false}, {123, false, true},
		{400, false, true}} {
		before := shown(t, k, nil)
		w.now = noon.Add(time.Duration(step.days) * 24 * time.Hour)
		if step.isAsked {
			if err := k.Look(); err != nil {
				t.Fatal(err)
			}
		}
		after := shown(t, k, nil)
		if renewed := !after.Equal(before); renewed != step.want {
			t.Errorf("day %d: renewed %v", step.days, renewed)
		}
		if left := after.NotAfter.Sub(w.now); left < 29*24*time.Hour {
			t.Errorf("day %d: %v left", step.days, left)
		}
	}
}

func TestTheLeafFollowsTheMachinesNames(t *testing.T) {
	w := &workshop{noon, Names{Hosts: []string{"garage.local"}, Addresses: addresses("192.168.1.20")}}
	k := newKeeper(t, w)
	w.names = Names{Hosts: []string{"garage.local", "bank.example"},
		Addresses: addresses("192.168.1.20", "203.0.113.4")}
	before := shown(t, k, nil)
	if err := k.Look(); err != nil || !shown(t, k, nil).Equal(before) {
		t.Errorf("names outside the limits made a new leaf: %v", err)
	}
	w.names = Names{Hosts: []string{"garage.local"}, Addresses: addresses("192.168.1.33")}
	if err := k.Look(); err != nil {
		t.Fatal(err)
	}
	if leaf := shown(t, k, nil); len(leaf.IPAddresses) != 1 || leaf.IPAddresses[0].String() != "192.168.1.33" {
		t.Errorf("%v", leaf.IPAddresses)
	}
	w.names = Names{}
	if err := k.Look(); err == nil {
		t.Error("a machine without a name got a leaf")
	}
	if shown(t, k, nil) == nil {
		t.Error("the leaf before is gone")
	}
}

type connAt struct {
	net.Conn
	at net.Addr
}

func (c connAt) LocalAddr() net.Addr { return c.at }

func TestAConnectionAtANewAddressMakesItLook(t *testing.T) {
	w := &workshop{noon, Names{Addresses: addresses("192.168.1.20")}}
	k := newKeeper(t, w)
	moved := connAt{at: net.TCPAddrFromAddrPort(netip.MustParseAddrPort("192.168.7.7:7373"))}
	w.names = Names{Addresses: addresses("192.168.7.7")}
	w.now = w.now.Add(time.Second)
	if got := shown(t, k, moved).IPAddresses[0].String(); got != "192.168.1.20" {
		t.Errorf("looked again after a second: %s", got)
	}
	w.now = w.now.Add(time.Minute)
	if got := shown(t, k, moved).IPAddresses[0].String(); got != "192.168.7.7" {
		t.Errorf("still %s", got)
	}
}

func TestAnAuthorityOutOfItsTimeIsRefused(t *testing.T) {
	a, _ := makeAuthority(t)
	for _, at := range []time.Time{noon.AddDate(11, 0, 0), noon.AddDate(-1, 0, 0)} {
		if _, err := NewKeeper(a, func() Names {
			return Names{Hosts: []string{"a.local"}}
		}, func() time.Time { return at }, silent); err == nil || !strings.Contains(err.Error(), "do: ") {
			t.Errorf("%v: %v", at, err)
		}
	}
	leaf, err := a.issue(Names{Hosts: []string{"a.local"}}, a.Certificate.NotAfter.Add(-time.Hour))
	if err != nil || leaf.Leaf.NotAfter.After(a.Certificate.NotAfter) {
		t.Errorf("the leaf outlives its authority: %v", err)
	}
}

func TestNamesHereAreWithinTheLimits(t *testing.T) {
	n := NamesHere([]string{"garage.internal", "10.9.8.7", "Not A Name"})
	if !slices.Contains(n.Hosts, "localhost") || !slices.Contains(n.Hosts, "garage.internal") ||
		!slices.Contains(n.Addresses, netip.MustParseAddr("10.9.8.7")) || slices.Contains(n.Hosts, "not a name") {
		t.Errorf("%v", n)
	}
	again := NamesHere([]string{"garage.internal", "10.9.8.7"})
	if !n.equal(again) {
		t.Errorf("%v, then %v", n, again)
	}
	a, err := newAuthority(MachineName(), nil, noon)
	if err != nil {
		t.Fatal(err)
	}
	if allowed, _ := n.within(a.Limits()); !slices.Contains(allowed.Hosts, MachineName()) {
		t.Errorf("its own name is not among %v", allowed)
	}
}

// A certificate from elsewhere is read again when it changes, and a broken one
// does not take the old one away.
func TestAGivenCertificateIsReadAgain(t *testing.T) {
	dir := t.TempDir()
	crt, key := filepath.Join(dir, "a.crt"), filepath.Join(dir, "a.key")
	if _, err := ReadGiven(crt, key, silent); err == nil || !strings.Contains(err.Error(), "do: ") {
		t.Errorf("nothing there: %v", err)
	}
	writeLeaf(t, crt, key, "one.local")
	g, err := ReadGiven(crt, key, silent)
	if err != nil {
		t.Fatal(err)
	}
	name := func() string {
		g.looked = time.Time{} // as if it had rested
		c, err := g.GetCertificate(nil)
		if err != nil {
			t.Fatal(err)
		}
		leaf, err := x509.ParseCertificate(c.Certificate[0])
		if err != nil {
			t.Fatal(err)
		}
		return leaf.DNSNames[0]
	}
	if got := name(); got != "one.local" {
		t.Error(got)
	}
	if err := os.WriteFile(crt, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := name(); got != "one.local" {
		t.Errorf("a broken file: %s", got)
	}
	writeLeaf(t, crt, key, "two.local")
	if got := name(); got != "two.local" {
		t.Errorf("changed: %s", got)
	}
	os.Remove(crt)
	if got := name(); got != "two.local" {
		t.Errorf("removed: %s", got)
	}
}

func writeLeaf(t *testing.T, crt, key, name string) {
	t.Helper()
	a, _ := makeAuthority(t)
	leaf, err := a.issue(Names{Hosts: []string{name}}, noon)
	if err != nil {
		t.Fatal(err)
	}
	der, err := x509.MarshalPKCS8PrivateKey(leaf.PrivateKey)
	if err != nil {
		t.Fatal(err)
	}
	os.Remove(crt)
	os.Remove(key)
	if err := errors.Join(writeNew(crt, 0o600, "CERTIFICATE", leaf.Certificate[0]),
		writeNew(key, 0o600, "PRIVATE KEY", der)); err != nil {
		t.Fatal(err)
	}
}

func BenchmarkIssue(b *testing.B) {
	a, err := newAuthority("workshop", nil, noon)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := a.issue(Names{Hosts: []string{"garage.local"}}, noon); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkIssueBare is the one thing that cannot be left out: a new key.
func BenchmarkIssueBare(b *testing.B) {
	for b.Loop() {
		if _, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader); err != nil {
			b.Fatal(err)
		}
	}
}

package localname

import (
	"net/netip"
	"slices"
	"testing"

	"golang.org/x/net/dns/dnsmessage"
)

var (
	aService  = Service{"garage", "_https._tcp", 7373}
	addresses = []netip.Addr{netip.MustParseAddr("192.168.77.20"), netip.MustParseAddr("fd00::20")}
)

func TestWhatIsToldIsReadBack(t *testing.T) {
	news, err := newsOf("garage.local", addresses, aService, nameTTL)
	if err != nil {
		t.Fatal(err)
	}
	if got := addressesIn(news, "Garage.local"); !slices.Equal(got, addresses) {
		t.Errorf("it reads %v", got)
	}
	if got := addressesIn(news, "garage-2.local"); got != nil {
		t.Errorf("another name has %v", got)
	}
	gone, err := newsOf("garage.local", addresses, aService, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := addressesIn(gone, "garage.local"); got != nil {
		t.Errorf("addresses that were taken back: %v", got)
	}
}

// The bit of section 10.2 stands on what is this machine's alone, and not on
// the service, which others offer too.
func TestOnlyTheOwnNameIsToBeForgotten(t *testing.T) {
	news, err := newsOf("garage.local", addresses, aService, nameTTL)
	if err != nil {
		t.Fatal(err)
	}
	var m dnsmessage.Message
	if err := m.Unpack(news); err != nil {
		t.Fatal(err)
	}
	if len(m.Answers) != 3 {
		t.Fatalf("%d answers", len(m.Answers))
	}
	for _, a := range m.Answers {
		if isOwn, bit := a.Header.Type != dnsmessage.TypePTR, a.Header.Class&forget != 0; isOwn != bit {
			t.Errorf("%v: the bit is %v", a.Header.Type, bit)
		}
	}
}

// An answer is heard more than once: from each question, over IPv4 and IPv6.
func TestOnesOwnAddressesAreToldApart(t *testing.T) {
	own, foreign := netip.MustParseAddr("127.0.0.1"), netip.MustParseAddr("192.0.2.77")
	for _, c := range []struct {
		found, others []netip.Addr
		hasOwn        bool
	}{
		{nil, nil, false},
		{[]netip.Addr{foreign, foreign}, []netip.Addr{foreign}, false},
		{[]netip.Addr{own, own}, nil, true},
		{[]netip.Addr{foreign, own, foreign}, []netip.Addr{foreign}, true},
	} {
		if got := others(c.found); !slices.Equal(got, c.others) || hasOwn(c.found) != c.hasOwn {
			t.Errorf("%v: others %v, own %v", c.found, got, hasOwn(c.found))
		}
	}
}

func FuzzAddressesIn(f *testing.F) {
	news, err := newsOf("garage.local", addresses, aService, nameTTL)
	if err != nil {
		f.Fatal(err)
	}
	question, err := questionFor("garage.local")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(news)
	f.Add(question)
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, packet []byte) {
		for _, a := range addressesIn(packet, "garage.local") {
			if !a.IsValid() {
				t.Errorf("%x gives an address that is none", packet)
			}
		}
	})
	if addressesIn(question, "garage.local") != nil {
		f.Error("a question answers itself")
	}
}

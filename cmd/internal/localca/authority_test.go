package localca

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"encoding/pem"
	"encoding/xml"
	"errors"
	"io"
	"net"
	"net/netip"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var noon = time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)

func makeAuthority(t testing.TB, names ...string) (*Authority, Files) {
	t.Helper()
	files := FilesFor(filepath.Join(t.TempDir(), "garage.db"))
	a, err := Make(files, "workshop", names, noon)
	if err != nil {
		t.Fatal(err)
	}
	return a, files
}

func addresses(list ...string) (all []netip.Addr) {
	for _, text := range list {
		all = append(all, netip.MustParseAddr(text))
	}
	return all
}

func TestTheAuthorityIsOnlyForTheHouse(t *testing.T) {
	a, _ := makeAuthority(t, "garage.example", "203.0.113.9")
	c := a.Certificate
	if !c.IsCA || !c.MaxPathLenZero || c.MaxPathLen != 0 || !c.PermittedDNSDomainsCritical ||
		c.Subject.CommonName == "" {
		t.Errorf("CA %v, path %d, critical %v, name %q", c.IsCA, c.MaxPathLen, c.PermittedDNSDomainsCritical,
			c.Subject.CommonName)
	}
	if years := c.NotAfter.Sub(noon).Hours() / 24 / 365; years < 9.9 || years > 10.1 {
		t.Errorf("lasts %.1f years", years)
	}
	l := a.Limits()
	for _, name := range []string{"local", "garage.local", "a.b.local", "pump.home.arpa", "x.internal", "localhost",
		"workshop", "garage.example", "WORKSHOP."} {
		if !l.MayName(name) {
			t.Errorf("%s is refused", name)
		}
	}
	for _, name := range []string{"example", "evil.example", "notgarage.example", "mylocal", "local.example", "",
		"*.local", "a..local"} {
		if l.MayName(name) {
			t.Errorf("%q is allowed", name)
		}
	}
	for _, ip := range addresses("10.1.2.3", "172.31.0.1", "192.168.0.2", "127.0.0.2", "169.254.1.1", "fd00::1",
		"fe80::1", "::1", "203.0.113.9", "::ffff:10.0.0.1") {
		if !l.MayServe(ip) {
			t.Errorf("%s is refused", ip)
		}
	}
	for _, ip := range addresses("8.8.8.8", "172.32.0.1", "203.0.113.8", "2001:db8::1", "11.0.0.1", "::2") {
		if l.MayServe(ip) {
			t.Errorf("%s is allowed", ip)
		}
	}
}

// shakeHands connects a client that trusts the authority and asks for a name.
func shakeHands(t *testing.T, a *Authority, leaf *tls.Certificate, name string, at time.Time) error {
	t.Helper()
	roots := x509.NewCertPool()
	roots.AddCert(a.Certificate)
	near, far := net.Pipe()
	defer near.Close()
	defer far.Close()
	go func() {
		server := tls.Server(far,
			&tls.Config{Certificates: []tls.Certificate{*leaf}, Time: func() time.Time { return at }})
		_ = server.Handshake()
	}()
	return tls.Client(near,
		&tls.Config{RootCAs: roots, ServerName: name, Time: func() time.Time { return at }}).Handshake()
}

func TestBrowsersOfTheHouseAcceptTheLeaf(t *testing.T) {
	a, _ := makeAuthority(t)
	leaf, err := a.issue(Names{Hosts: []string{"garage.local", "workshop"},
		Addresses: addresses("192.168.1.20", "127.0.0.2", "fd00::2")}, noon)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"garage.local", "workshop", "192.168.1.20", "127.0.0.2", "fd00::2"} {
		if err := shakeHands(t, a, leaf, name, noon); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	var wrongName x509.HostnameError
	if err := shakeHands(t, a, leaf, "other.local", noon); !errors.As(err, &wrongName) {
		t.Errorf("a name the leaf does not have: %v", err)
	}
	var expired x509.CertificateInvalidError
	if err := shakeHands(t, a, leaf, "garage.local", noon.Add(91*24*time.Hour)); !errors.As(err, &expired) ||
		expired.Reason != x509.Expired {
		t.Errorf("91 days later: %v", err)
	}
	if err := shakeHands(t, a, leaf, "garage.local", noon.Add(89*24*time.Hour)); err != nil {
		t.Errorf("89 days later: %v", err)
	}
	other, _ := makeAuthority(t)
	var stranger x509.UnknownAuthorityError
	if err := shakeHands(t, other, leaf, "garage.local", noon); !errors.As(err, &stranger) {
		t.Errorf("another garage's authority: %v", err)
	}
}

// What a thief of the key could make: the verifier refuses it.
func TestNamesOutsideTheLimitsAreRefusedByTheVerifier(t *testing.T) {
	a, _ := makeAuthority(t)
	for name, bad := range map[string]Names{
		"bank.example": {Hosts: []string{"bank.example"}},
		"garage.local": {Hosts: []string{"garage.local", "bank.example"}}, // one bad name spoils it
		"203.0.113.1":  {Addresses: addresses("203.0.113.1")},
		"2001:db8::1":  {Addresses: addresses("2001:db8::1")},
	} {
		leaf, err := a.issue(bad, noon)
		if err != nil {
			t.Fatal(err)
		}
		var refused x509.CertificateInvalidError
		if err := shakeHands(t, a, leaf, name, noon); !errors.As(err, &refused) ||
			refused.Reason != x509.CANotAuthorizedForThisName {
			t.Errorf("%v: %v", bad, err)
		}
	}
}

func TestFilesAreForTheirOwnerAndNeverOverwritten(t *testing.T) {
	a, files := makeAuthority(t)
	for name, want := range map[string]os.FileMode{files.Key: 0o600, files.Certificate: 0o644} {
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v %v", name, info.Mode(), err)
		}
	}
	if IsKeyOpen(files) {
		t.Error("a fresh key counts as open")
	}
	before, _ := os.ReadFile(files.Key)
	if _, err := Make(files, "workshop", nil, noon); !errors.Is(err, ErrExists) {
		t.Errorf("made again: %v", err)
	}
	if after, _ := os.ReadFile(files.Key); string(after) != string(before) {
		t.Error("the key was changed")
	}
	loaded, err := Load(files)
	if err != nil || loaded.Fingerprint() != a.Fingerprint() || len(a.Fingerprint()) != 95 {
		t.Errorf("%v", err)
	}
	if leaf, err := loaded.issue(Names{Hosts: []string{"garage.local"}}, noon); err != nil ||
		shakeHands(t, a, leaf, "garage.local", noon) != nil {
		t.Errorf("the loaded authority issues nothing good: %v", err)
	}
	os.Chmod(files.Key, 0o644)
	if !IsKeyOpen(files) {
		t.Error("a key everyone may read was not noticed")
	}
}

func TestReplaceSetsTheOldOneAside(t *testing.T) {
	old, files := makeAuthority(t)
	a, aside, err := Replace(files, "workshop", nil, noon)
	if err != nil || len(aside) != 2 || a.Fingerprint() == old.Fingerprint() {
		t.Fatalf("%v %v", aside, err)
	}
	kept, err := Load(Files{aside[0], aside[1]})
	if err != nil || kept.Fingerprint() != old.Fingerprint() {
		t.Errorf("set aside: %v", err)
	}
}

func TestADamagedAuthorityIsSaidToBe(t *testing.T) {
	if _, err := Load(FilesFor(filepath.Join(t.TempDir(), "garage.db"))); !errors.Is(err, ErrNone) {
		t.Errorf("none: %v", err)
	}
	_, foreign := makeAuthority(t)
	for name, harm := range map[string]func(f Files) error{
		"no key":            func(f Files) error { return os.Remove(f.Key) },
		"no certificate":    func(f Files) error { return os.Remove(f.Certificate) },
		"empty key":         func(f Files) error { return os.WriteFile(f.Key, nil, 0o600) },
		"text as key":       func(f Files) error { return os.WriteFile(f.Key, []byte("dear sir"), 0o600) },
		"another one's key": func(f Files) error { return os.Rename(foreign.Key, f.Key) },
		"cut certificate":   func(f Files) error { return os.Truncate(f.Certificate, 300) },
		"broken inside": func(f Files) error {
			return os.WriteFile(f.Certificate, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: []byte("x")}),
				0o600)
		},
	} {
		_, files := makeAuthority(t)
		if err := harm(files); err != nil {
			t.Fatal(err)
		}
		if _, err := Load(files); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), "do: ") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestMakeLeavesNothingHalf(t *testing.T) {
	dir := t.TempDir()
	files := Files{Certificate: filepath.Join(dir, "no such folder", "a.crt"), Key: filepath.Join(dir, "a.key")}
	if _, err := Make(files, "workshop", nil, noon); err == nil {
		t.Fatal("made without a folder")
	}
	if _, err := os.Stat(files.Key); err == nil {
		t.Error("a key without a certificate was left")
	}
}

func TestTheProfileIsWellFormedAndCarriesTheCertificate(t *testing.T) {
	a, _ := makeAuthority(t)
	text, err := a.Profile()
	if err != nil {
		t.Fatal(err)
	}
	values, key := map[string][]string{}, ""
	d := xml.NewDecoder(strings.NewReader(string(text)))
	var in string
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			in = token.Name.Local
		case xml.CharData:
			switch said := strings.TrimSpace(string(token)); {
			case in == "key" && said != "":
				key = said
			case said != "":
				values[key] = append(values[key], said)
			}
		case xml.EndElement:
			in = ""
		}
	}
	if types := values["PayloadType"]; len(types) != 2 || types[0] != "Configuration" ||
		types[1] != "com.apple.security.root" {
		t.Errorf("types %v", types)
	}
	if der, err := base64.StdEncoding.DecodeString(values["PayloadContent"][0]); err != nil ||
		string(der) != string(a.Certificate.Raw) {
		t.Errorf("the payload is not the certificate: %v", err)
	}
	if ids := values["PayloadUUID"]; len(ids) != 2 || ids[0] == ids[1] || len(ids[0]) != 36 {
		t.Errorf("ids %v", ids)
	}
	if again, _ := a.Profile(); string(again) != string(text) {
		t.Error("the profile changes between two requests")
	}
	if out, err := escaped(`a<b & "c"`); err != nil || strings.ContainsAny(out, `<"`) {
		t.Errorf("%q %v", out, err)
	}
}

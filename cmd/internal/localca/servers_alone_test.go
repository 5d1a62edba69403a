package localca

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"os"
	"testing"
	"time"
)

// signs makes what a thief of the key could make, and says whether a verifier
// that trusts the authority takes it.
func signs(t *testing.T, a *Authority, of x509.Certificate, as x509.ExtKeyUsage) bool {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	if of.SerialNumber, err = newSerial(); err != nil {
		t.Fatal(err)
	}
	of.Subject, of.NotBefore, of.NotAfter = pkix.Name{CommonName: "A stranger"}, noon, noon.Add(time.Hour)
	der, err := x509.CreateCertificate(rand.Reader, &of, a.Certificate, &key.PublicKey, a.key)
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := x509.ParseCertificate(der)
	if err != nil {
		t.Fatal(err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(a.Certificate)
	_, err = leaf.Verify(x509.VerifyOptions{Roots: roots, CurrentTime: noon, KeyUsages: []x509.ExtKeyUsage{as}})
	return err == nil
}

func TestTheAuthorityIsForServersAlone(t *testing.T) {
	a, _ := makeAuthority(t)
	mail, code := x509.ExtKeyUsageEmailProtection, x509.ExtKeyUsageCodeSigning
	for name, c := range map[string]struct {
		of x509.Certificate
		as x509.ExtKeyUsage
	}{
		"mail": {x509.Certificate{EmailAddresses: []string{"owner@bank.example"},
			ExtKeyUsage: []x509.ExtKeyUsage{mail}}, mail},
		"mail, nothing said of what for": {x509.Certificate{EmailAddresses: []string{"owner@bank.example"}}, mail},
		"mail, whatever for": {x509.Certificate{EmailAddresses: []string{"owner@bank.example"}},
			x509.ExtKeyUsageAny},
		"mail inside the house": {x509.Certificate{EmailAddresses: []string{"owner@garage.local"}},
			x509.ExtKeyUsageAny},
		"a program": {x509.Certificate{ExtKeyUsage: []x509.ExtKeyUsage{code}}, code},
		"a client": {x509.Certificate{DNSNames: []string{"garage.local"},
			ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageClientAuth}}, x509.ExtKeyUsageClientAuth},
	} {
		if signs(t, a, c.of, c.as) {
			t.Errorf("%s is taken", name)
		}
	}
	server := x509.Certificate{DNSNames: []string{"garage.local"},
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}}
	if !signs(t, a, server, x509.ExtKeyUsageServerAuth) || !a.IsForServersAlone() {
		t.Error("a server is refused, or the certificate does not say what it is for")
	}
}

// Phones have installed authorities of before: those are loaded, issue, and
// stay as they are.
func TestAnAuthorityOfBeforeGoesOnWorking(t *testing.T) {
	a, files := makeAuthority(t)
	old := *a.Certificate
	old.ExtKeyUsage, old.PermittedEmailAddresses, old.ExtraExtensions = nil, nil, nil
	der, err := x509.CreateCertificate(rand.Reader, &old, &old, a.key.Public(), a.key)
	if err != nil {
		t.Fatal(err)
	}
	text := pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})
	if err := os.WriteFile(files.Certificate, text, 0o644); err != nil {
		t.Fatal(err)
	}
	loaded, err := Load(files)
	if err != nil {
		t.Fatal(err)
	}
	leaf, err := loaded.issue(Names{Hosts: []string{"garage.local"}}, noon)
	if err != nil {
		t.Fatal(err)
	}
	if err := shakeHands(t, loaded, leaf, "garage.local", noon); err != nil {
		t.Error(err)
	}
	if loaded.IsForServersAlone() {
		t.Error("it says what it does not say")
	}
	if now, err := os.ReadFile(files.Certificate); err != nil || string(now) != string(text) {
		t.Errorf("the file was changed: %v", err)
	}
}

package localca

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"crypto/x509/pkix"
	"fmt"
	"math/big"
	"strings"
	"time"
)

const (
	authorityLife = 10 * 365 * 24 * time.Hour
	// leafLife is well under the 825 days after which some phones refuse a
	// leaf of a root that a person installed.
	leafLife = 90 * 24 * time.Hour
	// clockSlack: a phone's clock may be behind ours.
	clockSlack = time.Hour
)

// An Authority vouches for the servers of one garage.
type Authority struct {
	Certificate *x509.Certificate
	key         *ecdsa.PrivateKey
}

// newAuthority makes an authority for a machine of this name, which may vouch
// for the further names too.
func newAuthority(machine string, names []string, now time.Time) (*Authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	serial, err := newSerial()
	if err != nil {
		return nil, err
	}
	template := &x509.Certificate{
		SerialNumber: serial,
		// Phones list it by its common name, and one refuses to list it without.
		Subject: pkix.Name{CommonName: fmt.Sprintf("Pointsmith garage on %s (%x)", machine,
			serial.Bytes()[:3]), Organization: []string{"Pointsmith garage"}},
		NotBefore:             now.Add(-clockSlack),
		NotAfter:              now.Add(authorityLife),
		IsCA:                  true,
		BasicConstraintsValid: true,
		MaxPathLenZero:        true,
		KeyUsage:              x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		ExtKeyUsage:           []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, // for all below it
	}
	limitsFor(machine, names).applyTo(template)
	der, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	certificate, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, err
	}
	return &Authority{certificate, key}, nil
}

// Fingerprint is the SHA-256 digest of the certificate, as phones show it: to
// be compared, since the certificate itself comes over plain HTTP.
func (a *Authority) Fingerprint() string {
	sum := sha256.Sum256(a.Certificate.Raw)
	pairs := make([]string, len(sum))
	for i, b := range sum {
		pairs[i] = fmt.Sprintf("%02X", b)
	}
	return strings.Join(pairs, ":")
}

func newSerial() (*big.Int, error) {
	top := new(big.Int).Lsh(big.NewInt(1), 126)
	serial, err := rand.Int(rand.Reader, top)
	if err != nil {
		return nil, err
	}
	return serial.Add(serial, top), nil // always of the same length
}

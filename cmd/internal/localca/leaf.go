package localca

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"errors"
	"fmt"
	"time"
)

// issue makes a leaf for these names, with a new key.
func (a *Authority) issue(n Names, now time.Time) (*tls.Certificate, error) {
	if len(n.Hosts)+len(n.Addresses) == 0 {
		return nil, errors.New("issue a certificate: none of this machine's names and addresses is within the authority's limits")
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, fmt.Errorf("issue a certificate: %w", err)
	}
	serial, err := newSerial()
	if err != nil {
		return nil, fmt.Errorf("issue a certificate: %w", err)
	}
	template := &x509.Certificate{
		SerialNumber:          serial,
		Subject:               pkix.Name{CommonName: "Pointsmith server", Organization: []string{"Pointsmith garage"}},
		NotBefore:             now.Add(-clockSlack),
		NotAfter:              earlier(now.Add(leafLife), a.Certificate.NotAfter),
		KeyUsage:              x509.KeyUsageDigitalSignature,
		ExtKeyUsage:           []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		BasicConstraintsValid: true,
		DNSNames:              n.Hosts,
	}
	for _, ip := range n.Addresses {
		template.IPAddresses = append(template.IPAddresses, ip.AsSlice())
	}
	der, err := x509.CreateCertificate(rand.Reader, template, a.Certificate, &key.PublicKey, a.key)
	if err != nil {
		return nil, fmt.Errorf("issue a certificate: %w", err)
	}
	leaf, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, fmt.Errorf("issue a certificate: %w", err)
	}
	return &tls.Certificate{Certificate: [][]byte{der, a.Certificate.Raw}, PrivateKey: key, Leaf: leaf}, nil
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

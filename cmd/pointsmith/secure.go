package main

import (
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"slices"
	"time"

	"pointsmith/cmd/internal/localca"
)

// A security is how serve speaks HTTPS. Without config it speaks plain HTTP.
type security struct {
	config    *tls.Config
	hosts     []string               // names the certificate holds for that phones may use
	authority *localca.Authority     // nil unless the garage's own is in use
	holdsFor  func(name string) bool // nil: nothing is known against any
	keep      func(context.Context)  // renews while the server runs
	look      func()                 // renews at once where this machine's addresses have changed
}

func (s security) scheme() string {
	if s.config == nil {
		return "http"
	}
	return "https"
}

// mayBe reports whether phones can be sent to a name without a warning.
func (s security) mayBe(name string) bool {
	if s.config == nil {
		return true
	}
	if s.holdsFor != nil {
		return s.holdsFor(name)
	}
	return slices.Contains(s.hosts, name)
}

// findSecurity takes the certificate that was given, else the garage's own
// authority. When that one fails the garage goes on over plain HTTP, and says so.
func findSecurity(t terminal, o serving, garage string, log *slog.Logger) (security, error) {
	if o.cert != "" || o.key != "" {
		if o.cert == "" || o.key == "" {
			return security{},
				errors.New("a certificate needs its key, and a key its certificate; do: give -cert and -key together")
		}
		given, err := localca.ReadGiven(o.cert, o.key, log)
		if err != nil {
			return security{}, err
		}
		return security{config: tlsConfig(given.GetCertificate), hosts: given.Names()}, nil
	}
	s, err := ownSecurity(t, o, garage, log)
	if err != nil {
		t.warn("no https: %v; serving plain http meanwhile, which keeps no phone working offline", err)
		return security{}, nil
	}
	return s, nil
}

// ownSecurity uses the garage's authority; zero when there is none.
func ownSecurity(t terminal, o serving, garage string, log *slog.Logger) (security, error) {
	files := localca.FilesFor(garage)
	authority, err := localca.Load(files)
	if errors.Is(err, localca.ErrNone) {
		return security{}, nil
	}
	if err != nil {
		return security{}, err
	}
	keeper, err := localca.NewKeeper(authority, func() localca.Names {
		return localca.NamesHere(slices.Concat(o.hosts, o.name.hosts()))
	}, time.Now, log)
	if err != nil {
		return security{}, err
	}
	if localca.IsKeyOpen(files) {
		t.warn("others than its owner may read %s, and with it pass for this server; do: chmod 600 it", files.Key)
	}
	if keeper.Left() < 365*24*time.Hour {
		t.warn("the garage's authority ends on %s; do: make a new one with pointsmith trust -new, and install it on every phone",
			authority.Certificate.NotAfter.Format(time.DateOnly))
	}
	for _, name := range o.hosts {
		if !keeper.HoldsFor(name) {
			t.warn("the authority may not vouch for %s; do: make one that may, with pointsmith trust -new -host %s",
				name, name)
		}
	}
	return security{config: tlsConfig(keeper.GetCertificate), authority: authority, holdsFor: keeper.HoldsFor,
		keep: keeper.Keep, look: keeper.LookNow}, nil
}

func tlsConfig(get func(*tls.ClientHelloInfo) (*tls.Certificate, error)) *tls.Config {
	return &tls.Config{GetCertificate: get, MinVersion: tls.VersionTLS12}
}

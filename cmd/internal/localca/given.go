package localca

import (
	"crypto/tls"
	"fmt"
	"log/slog"
	"os"
	"sync"
	"time"
)

const restEvery = 2 * time.Second // at least between two looks at the files

// A Given shows a certificate from elsewhere and reads it again when its files
// change, so that whatever renews it needs to tell nobody.
type Given struct {
	certificateFile, keyFile string
	log                      *slog.Logger

	mu     sync.Mutex
	leaf   *tls.Certificate
	stamp  string
	looked time.Time
}

// ReadGiven reads a PEM certificate, its chain behind it, and its PEM key.
func ReadGiven(certificateFile, keyFile string, log *slog.Logger) (*Given, error) {
	g := &Given{certificateFile: certificateFile, keyFile: keyFile, log: log, looked: time.Now()}
	g.stamp = g.stampNow()
	leaf, err := tls.LoadX509KeyPair(certificateFile, keyFile)
	if err != nil {
		return nil, fmt.Errorf("read the certificate: %w; do: give -cert a PEM certificate with its chain, and -key its PEM key", err)
	}
	g.leaf = &leaf
	return g, nil
}

// Names are the host names the certificate holds for, wildcards left out.
func (g *Given) Names() (names []string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	for _, name := range g.leaf.Leaf.DNSNames {
		if plainName(name) != "" {
			names = append(names, name)
		}
	}
	return names
}

// GetCertificate is for tls.Config.
func (g *Given) GetCertificate(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if time.Since(g.looked) >= restEvery {
		g.looked = time.Now()
		g.reload()
	}
	return g.leaf, nil
}

// reload reads changed files. Half-written ones fail, and are tried again when
// they have changed once more.
func (g *Given) reload() {
	stamp := g.stampNow()
	if stamp == g.stamp {
		return
	}
	g.stamp = stamp
	leaf, err := tls.LoadX509KeyPair(g.certificateFile, g.keyFile)
	if err != nil {
		g.log.Error("the changed certificate cannot be read; the one before is still shown", "error", err)
		return
	}
	g.leaf = &leaf
	g.log.Info("certificate read again", "file", g.certificateFile)
}

func (g *Given) stampNow() string {
	stamp := ""
	for _, name := range []string{g.certificateFile, g.keyFile} {
		if info, err := os.Stat(name); err == nil {
			stamp += fmt.Sprint(info.ModTime().UnixNano(), info.Size(), " ")
		}
	}
	return stamp
}

package main

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// trustingOnly is a client that trusts the authority in a file, and no other.
func trustingOnly(ts *testscript.TestScript, file string) *http.Client {
	roots := x509.NewCertPool()
	if !roots.AppendCertsFromPEM([]byte(ts.ReadFile(file))) {
		ts.Fatalf("%s holds no certificate", file)
	}
	return &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots},
		DisableKeepAlives: true}}
}

func getSafe(ts *testscript.TestScript, neg bool, args []string) {
	client := trustingOnly(ts, args[0])
	for deadline := time.Now().Add(10 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		answer, err := client.Get(args[1])
		if neg {
			if err == nil {
				answer.Body.Close()
				ts.Fatalf("%s answers a client that does not trust it", args[1])
			}
			fmt.Fprintln(ts.Stdout(), err)
			return
		}
		if err == nil {
			defer answer.Body.Close()
			_, err = io.Copy(ts.Stdout(), answer.Body)
			ts.Check(err)
			return
		}
		if time.Now().After(deadline) {
			ts.Fatalf("nothing answers at %s: %v", args[1], err)
		}
	}
}

func postSafe(ts *testscript.TestScript, neg bool, args []string) {
	body := strings.NewReader(ts.ReadFile(args[2]))
	answer, err := trustingOnly(ts, args[0]).Post(args[1], "application/json", body)
	ts.Check(err)
	defer answer.Body.Close()
	if (answer.StatusCode == http.StatusOK) == neg {
		ts.Fatalf("%s answers %s", args[1], answer.Status)
	}
	_, err = io.Copy(ts.Stdout(), answer.Body)
	ts.Check(err)
	fmt.Fprintln(ts.Stdout(), answer.Header.Get("Set-Cookie"))
}

// lendCertificate writes out the certificate of net/http/httptest.
func lendCertificate(ts *testscript.TestScript, _ bool, args []string) {
	lender := httptest.NewTLSServer(http.NotFoundHandler())
	defer lender.Close()
	pair := lender.TLS.Certificates[0]
	key, err := x509.MarshalPKCS8PrivateKey(pair.PrivateKey)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]),
		pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: pair.Certificate[0]}), 0o600))
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: key}), 0o600))
}

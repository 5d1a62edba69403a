package house

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// The arrows: cmd → calc, store, the embedded app; nothing points back.
var mayNotImport = map[string][]string{
	"calc":  {"pointsmith", "pointsmith/store", "pointsmith/cmd"},
	"store": {"pointsmith", "pointsmith/calc", "pointsmith/cmd"},
	".":     {"pointsmith/calc", "pointsmith/store", "pointsmith/cmd"},
}

// calc is arithmetic: no clock, no files, no network, no processes, no chance.
var notForCalc = []string{"os", "time", "io/fs", "net", "net/http", "syscall", "os/exec", "math/rand", "crypto/rand",
	"log", "log/slog"}

func TestArrowsPointOneWay(t *testing.T) {
	for _, s := range sources(t) {
		room, _, _ := strings.Cut(s.folder(), "/")
		for _, path := range s.imports() {
			for _, banned := range mayNotImport[room] {
				// The module's root is the embedded app and nothing else.
				if path == banned || banned != "pointsmith" && strings.HasPrefix(path, banned+"/") {
					t.Errorf("%s imports %s, which lies against the arrows", s.path, path)
				}
			}
			if room == "calc" && !s.isTest() && slices.Contains(notForCalc, path) {
				t.Errorf("%s imports %s; calc only calculates", s.path, path)
			}
			if path == "github.com/gorilla/mux" && s.path != "cmd/internal/web/routes.go" {
				t.Errorf("%s imports gorilla/mux; only cmd/internal/web/routes.go does", s.path)
			}
			if path == "go.etcd.io/bbolt" && room != "store" {
				t.Errorf("%s imports bbolt; only store does", s.path)
			}
		}
	}
}

// What calc pulls in goes to every phone, and must not reach the network.
func TestCalcPullsInNothingHeavy(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "pointsmith/calc/...").CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	deps := strings.Fields(string(out))
	if !slices.Contains(deps, "pointsmith/calc/schema") {
		t.Fatalf("the list of packages is not one: %.200s", out)
	}
	for _, banned := range []string{"net", "net/http", "os/exec", "go.etcd.io/bbolt", "crypto/tls",
		"github.com/gorilla/mux"} {
		if slices.Contains(deps, banned) {
			t.Errorf("calc pulls in %s", banned)
		}
	}
}

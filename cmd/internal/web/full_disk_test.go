package web

import (
	"fmt"
	"net/http/httptest"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"pointsmith/store"
)

// On a disk without room a push is refused in words that say nothing is lost,
// what was answered stays, and calculations and reading go on. The disk is a
// small one in memory; where none can be mounted, the refusal alone is tried.
func TestFullDiskIsSaidAndLosesNothing(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=512k"); err != nil {
		t.Logf("no disk can be mounted here: %v", err)
		w := httptest.NewRecorder()
		newSite(t).refuseStore(w, fmt.Errorf("store: %w", store.ErrNoSpace))
		wantNoRoom(t, w)
		return
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	s := newSite(t)
	garage, err := store.Open(filepath.Join(dir, "garage.db"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { garage.Close() })
	s.store = garage
	if s.file, err = openFileOf(garage); err != nil {
		t.Fatal(err)
	}
	answered := 0
	body := putCar(`{"name":"Linnet","owner":"","facts":{"a":{"value":"` + strings.Repeat("x", 3900) + `"}}}`)
	for ; answered < 1000; answered++ {
		w := ask(s, "PUT", fmt.Sprintf("/api/v1/garage/car/full%016d", answered), body)
		if w.Code != 200 {
			wantNoRoom(t, w)
			break
		}
	}
	if n, err := garage.Count(); err != nil || n != answered || n < 3 || n == 1000 {
		t.Errorf("%d documents of %d that were answered: %v", n, answered, err)
	}
	if w := ask(s, "GET", "/api/v1/garage/car/full0000000000000000", ""); w.Code != 200 {
		t.Errorf("reading: %d %s", w.Code, w.Body)
	}
	if w := ask(s, "POST", "/api/v1/calc/convert", `{"value":20,"from":"inHg","to":"kPa"}`); w.Code != 200 {
		t.Errorf("calculating: %d %s", w.Code, w.Body)
	}
}

func wantNoRoom(t *testing.T, w *httptest.ResponseRecorder) {
	t.Helper()
	wantProblem(t, w, 507, "no room left", "nothing is lost on the phone", "free some room")
}

package store_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

func newCode(t testing.TB, s *store.Store, now time.Time) string {
	t.Helper()
	code, until, err := s.NewCode(false, now)
	if err != nil || len(code) != 8 || !until.Equal(now.Add(store.CodeLife)) {
		t.Fatalf("%q until %v, %v", code, until, err)
	}
	return code
}

func TestACodePairsOneDevice(t *testing.T) {
	s := storetest.Open(t)
	code := newCode(t, s, noon)
	typed := " " + strings.ToLower(code[:4]) + "-" + code[4:]
	token, d, err := s.Pair(typed, "Garage phone", noon.Add(9*time.Minute))
	if err != nil || len(token) != 26 || !store.ValidID(d.ID) || d.Name != "Garage phone" || d.IsOwner {
		t.Fatalf("%q %+v %v", token, d, err)
	}
	if _, _, err := s.Pair(code, "Second", noon.Add(9*time.Minute)); !errors.Is(err, store.ErrCode) {
		t.Errorf("the same code again: %v", err)
	}
	got, _, err := s.DeviceOf(token, noon.Add(9*time.Minute))
	if err != nil || got != d {
		t.Errorf("%+v %v, want %+v", got, err, d)
	}
	for _, wrong := range []string{"", token[1:], token + "a", strings.ToUpper(token), code} {
		if _, _, err := s.DeviceOf(wrong, noon); !errors.Is(err, store.ErrUnknownDevice) {
			t.Errorf("token %q: %v", wrong, err)
		}
	}
}

func TestACodeEndsByItself(t *testing.T) {
	s := storetest.Open(t)
	code := newCode(t, s, noon)
	for _, at := range []time.Duration{store.CodeLife, 11 * time.Minute, 24 * time.Hour, -time.Hour} {
		if _, _, err := s.Pair(code, "Late", noon.Add(at)); !errors.Is(err, store.ErrCode) {
			t.Errorf("%v later: %v", at, err)
		}
	}
	if _, _, err := s.Pair(code, "In time", noon.Add(store.CodeLife-time.Second)); err != nil {
		t.Error(err)
	}
}

func TestTooManyCodesEndTheOldest(t *testing.T) {
	s := storetest.Open(t)
	var codes []string
	for n := range 9 {
		codes = append(codes, newCode(t, s, noon.Add(time.Duration(n)*time.Second)))
	}
	if _, _, err := s.Pair(codes[0], "Oldest", noon.Add(time.Minute)); !errors.Is(err, store.ErrCode) {
		t.Errorf("the oldest of nine: %v", err)
	}
	for _, code := range codes[1:] {
		if _, _, err := s.Pair(code, "Phone", noon.Add(time.Minute)); err != nil {
			t.Error(err)
		}
	}
}

func TestARevokedDeviceIsOut(t *testing.T) {
	s := storetest.Open(t)
	var tokens []string
	for n := range 3 {
		token, _, err := s.Pair(newCode(t, s, noon), fmt.Sprint("Phone ", n), noon.Add(time.Duration(n)*time.Second))
		if err != nil {
			t.Fatal(err)
		}
		tokens = append(tokens, token)
	}
	devices, err := s.Devices()
	if err != nil || len(devices) != 3 || devices[0].Name != "Phone 0" || devices[2].Name != "Phone 2" {
		t.Fatalf("%+v %v", devices, err)
	}
	if gone, err := s.Revoke(devices[1].ID); err != nil || gone.Name != "Phone 1" {
		t.Errorf("%+v %v", gone, err)
	}
	if _, err := s.Revoke(devices[1].ID); !errors.Is(err, store.ErrUnknownDevice) {
		t.Errorf("twice: %v", err)
	}
	for n, token := range tokens {
		if _, _, err := s.DeviceOf(token, noon); errors.Is(err, store.ErrUnknownDevice) != (n == 1) {
			t.Errorf("phone %d: %v", n, err)
		}
	}
}

func TestSeenIsNotedNowAndThen(t *testing.T) {
	s := storetest.Open(t)
	token, _, err := s.Pair(newCode(t, s, noon), "Phone", noon)
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		minutes int
		want    bool
	}{{1, false}, {9, false}, {10, true}, {12, false}, {25, true}, {0, true}} {
		d, isNoted, err := s.DeviceOf(token, noon.Add(time.Duration(step.minutes)*time.Minute))
		if err != nil || isNoted != step.want || step.want &&
			!d.SeenAt.Equal(noon.Add(time.Duration(step.minutes)*time.Minute)) {
			t.Errorf("minute %d: noted %v, seen %v, %v", step.minutes, isNoted, d.SeenAt, err)
		}
	}
}

func TestThereIsALimitToDevices(t *testing.T) {
	s := storetest.Open(t)
	for range store.MaxDevices {
		if _, _, err := s.Pair(newCode(t, s, noon), "Phone", noon); err != nil {
			t.Fatal(err)
		}
	}
	code := newCode(t, s, noon)
	if _, _, err := s.Pair(code, "One too many", noon); !errors.Is(err, store.ErrTooManyDevices) {
		t.Errorf("%v", err)
	}
	devices, _ := s.Devices()
	if _, err := s.Revoke(devices[0].ID); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Pair(code, "Now it fits", noon); err != nil {
		t.Errorf("the refusal spent the code: %v", err)
	}
}

// Who takes the file away has no token and no code in hand.
func TestTheFileHoldsNoSecret(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	s := storetest.OpenFile(t, path)
	open, spent := newCode(t, s, noon), newCode(t, s, noon)
	token, _, err := s.Pair(spent, "Phone", noon)
	if err != nil {
		t.Fatal(err)
	}
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(content, []byte("Phone")) {
		t.Fatal("the device is not in the file: this test reads the wrong one")
	}
	for _, secret := range []string{open, spent, token} {
		if bytes.Contains(content, []byte(secret)) {
			t.Errorf("%q stands in the file", secret)
		}
	}
}

// A file from before pairing, with the key that was printed at every start.
func TestTheOldKeyBecomesADevice(t *testing.T) {
	const oldKey = "yy7hims2ypg7ky5ybc4bm2o4hf"
	path := filepath.Join(t.TempDir(), "garage.db")
	editBolt(t, path, func(tx *bolt.Tx) error {
		for _, name := range []string{"documents", "feed", "kept", "answers"} {
			if _, err := tx.CreateBucket([]byte(name)); err != nil {
				return err
			}
		}
		meta, err := tx.CreateBucket([]byte("meta"))
		if err != nil {
			return err
		}
		if err := meta.Put([]byte("access-key"), []byte(oldKey)); err != nil {
			return err
		}
		return meta.Put([]byte("version"), []byte{0, 0, 0, 0, 0, 0, 0, 1})
	})
	s := storetest.OpenFile(t, path)
	devices, err := s.Devices()
	if err != nil || len(devices) != 1 || devices[0].IsOwner || !devices[0].SeenAt.IsZero() {
		t.Fatalf("%+v %v", devices, err)
	}
	if d, _, err := s.DeviceOf(oldKey, noon); err != nil || d.ID != devices[0].ID {
		t.Errorf("a phone that holds the key: %+v %v", d, err)
	}
	s.Close()
	s = storetest.OpenFile(t, path)
	if again, err := s.Devices(); err != nil || len(again) != 1 || again[0].ID != devices[0].ID {
		t.Errorf("opened again: %+v %v", again, err)
	}
	if _, err := s.Revoke(devices[0].ID); err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.DeviceOf(oldKey, noon); !errors.Is(err, store.ErrUnknownDevice) {
		t.Errorf("revoked: %v", err)
	}
	s.Close()
	editBolt(t, path, func(tx *bolt.Tx) error {
		if key := tx.Bucket([]byte("meta")).Get([]byte("access-key")); key != nil {
			t.Errorf("the key still stands in the file: %s", key)
		}
		return nil
	})
}

func TestADeviceIsWrittenAsItIsDocumented(t *testing.T) {
	text, err := json.Marshal(store.Device{ID: "a", Name: "b", IsOwner: true, PairedAt: noon, SeenAt: noon})
	if err != nil ||
		string(text) != `{"id":"a","name":"b","owner":true,"pairedAt":"2026-05-01T12:00:00Z","seenAt":"2026-05-01T12:00:00Z"}` {
		t.Errorf("%s %v", text, err)
	}
}

// flippedIn writes a garage file with one bit of the first place turned over
// where text stands, and says where that is.
func flippedIn(t *testing.T, path, text string, past int) {
	t.Helper()
	whole, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for from := 0; ; n++ { // in stale pages too: who reads those reads what is no longer so
		at := bytes.Index(whole[from:], []byte(text))
		if at < 0 {
			break
		}
		whole[from+at+past] ^= 0x02
		from += at + len(text)
	}
	if n == 0 {
		t.Fatalf("%q does not stand in the file", text)
	}
	if err := os.WriteFile(path, whole, 0o600); err != nil {
		t.Fatal(err)
	}
}

// digestOf is all that is stored of a token.
func digestOf(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// Wherever one bit of a paired phone's record turns over, in what it says, in
// its key, or in the name of its bucket, it is found; the record is kept whole,
// and the others go on.
func TestABrokenDeviceIsNamedAndTheOthersGoOn(t *testing.T) {
	for name, where := range map[string]func(token string) (string, int){
		"what it says": func(string) (string, int) { return `"Phone 1","owner":false`, 9 },
		"its name":     func(string) (string, int) { return `"Phone 1","owner":false`, 1 },
		"its key":      func(token string) (string, int) { return digestOf(token), 5 },
		"its bucket":   func(string) (string, int) { return "devices", 3 },
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "garage.db")
			s, err := store.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			var tokens []string
			for n := range 3 {
				token, _, err := s.Pair(newCode(t, s, noon), fmt.Sprint("Phone ", n), noon)
				if err != nil {
					t.Fatal(err)
				}
				tokens = append(tokens, token)
			}
			put(t, s, change("", 0, `{"name":"Linnet"}`))
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			text, past := where(tokens[1])
			flippedIn(t, path, text, past)
			if _, err := store.Inspect(path); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("passes for sound: %v", err)
			}
			if _, err := store.CopyFile(path, path+".copy"); !errors.Is(err, store.ErrDamaged) {
				t.Errorf("backed up as checked: %v", err)
			}
			m, err := store.Mend(path, noon)
			if err != nil {
				t.Fatal(err)
			}
			s = storetest.OpenFile(t, path)
			wantCurrent(t, s, `{"name":"Linnet"}`)
			isWhole := name == "its bucket" // the name is one bit away from a known one
			for n, token := range tokens {
				if _, _, err := s.DeviceOf(token, noon); (err == nil) != (n != 1 || isWhole) {
					t.Errorf("phone %d: %v", n, err)
				}
			}
			broken, err := s.BrokenDevices()
			if isWhole {
				if err != nil || len(broken) != 0 || !strings.Contains(m.String(), "no name of a bucket") {
					t.Errorf("%v %v %v", m, broken, err)
				}
				return
			}
			if err != nil || len(broken) != 1 || !bytes.Contains(broken[0].Entry, []byte("pairedAt")) ||
				!strings.HasPrefix(m.String(), `the record of a device ("`) {
				t.Errorf("%v %v %v", m, broken, err)
			}
			report, err := s.Inspect()
			if err != nil || len(report.Broken) != 1 {
				t.Errorf("%+v %v", report, err)
			}
			devices, _ := s.Devices()
			if _, err := s.Revoke(devices[0].ID); err != nil || len(devices) != 2 {
				t.Errorf("%v, %d devices", err, len(devices))
			}
		})
	}
}

// A device that is broken already when an older file is brought up to this
// layout is set apart; the others, and all else, come along.
func TestAnOlderLayoutComesAlongWithoutItsBrokenDevice(t *testing.T) {
	old, err := os.ReadFile(filepath.Join("..", "testdata", "db", "v4.db"))
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "v4.db")
	if err := os.WriteFile(path, old, 0o600); err != nil {
		t.Fatal(err)
	}
	good, _ := json.Marshal(store.Device{ID: "goodgoodgoodgoodgood", Name: "Good phone", PairedAt: noon})
	editBolt(t, path, func(tx *bolt.Tx) error {
		devices := tx.Bucket([]byte("devices"))
		return errors.Join(devices.Put([]byte(digestOf("good")), good),
			devices.Put([]byte(digestOf("bad")), append([]byte("\x7b\x02"), good[2:]...)))
	})
	s := storetest.OpenFile(t, path)
	devices, err := s.Devices()
	if err != nil || len(devices) != 2 { // the one of the old file, and the good one
		t.Errorf("%+v %v", devices, err)
	}
	if d, _, err := s.DeviceOf("good", noon); err != nil || d.Name != "Good phone" {
		t.Errorf("%+v %v", d, err)
	}
	if broken, err := s.BrokenDevices(); err != nil || len(broken) != 1 ||
		!bytes.Equal(broken[0].Entry[2:], good[2:]) {
		t.Errorf("%v %v", broken, err)
	}
}

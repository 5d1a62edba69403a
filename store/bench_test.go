package store_test

import (
	"encoding/json"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

// benchBody is about the size of a visit with two sets of readings, 2 kB.
var benchBody = json.RawMessage(`{"notes":"` + strings.Repeat("rising 1000 17.5 ", 120) + `"}`)

// BenchmarkPut is one document made durable. BenchmarkBarePut beside it is the
// least bbolt can do with the same bytes; their ratio is what revisions, the
// feed and the record of answers cost.
func BenchmarkPut(b *testing.B) {
	s := storetest.Open(b)
	base, n := "", 0
	for b.Loop() {
		a, err := s.Put(store.Change{Kind: "visit", ID: someID, Base: base, ChangedAt: noon.Add(time.Duration(n)),
			Body: withNumber(n)})
		if err != nil {
			b.Fatal(err)
		}
		base = a.Revision
		n++
	}
}

func BenchmarkBarePut(b *testing.B) {
	db, err := bolt.Open(filepath.Join(b.TempDir(), "bare.db"), 0o600, &bolt.Options{Timeout: time.Second})
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	n := 0
	for b.Loop() {
		err := db.Update(func(tx *bolt.Tx) error {
			bucket, err := tx.CreateBucketIfNotExists([]byte("documents"))
			if err != nil {
				return err
			}
			return bucket.Put([]byte("visit/"+someID), withNumber(n))
		})
		if err != nil {
			b.Fatal(err)
		}
		n++
	}
}

func withNumber(n int) json.RawMessage {
	return append(json.RawMessage(`{"n":`+strconv.Itoa(n)+`,`), benchBody[1:]...)
}

func BenchmarkSinceThousand(b *testing.B) {
	s := storetest.Open(b)
	for n := range 1000 {
		if _, err := s.Put(store.Change{Kind: "visit", ID: crashID(n), ChangedAt: noon, Body: benchBody}); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		if docs, _, err := s.Since(0); err != nil || len(docs) != 1000 {
			b.Fatal(len(docs), err)
		}
	}
}

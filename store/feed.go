package store

import (
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"

	bolt "go.etcd.io/bbolt"
)

// Bounds of a page of the feed. Chosen: a page is read in one breath by a
// phone and lost without regret when the link breaks.
const (
	PageDocuments = 1000
	pageBytes     = 2 << 20
)

// A Place is where a phone stands in the feed.
type Place struct {
	Cursor uint64 // of the page before; 0: from the start
	Garage string // as the page before had it; "": not known
}

// Why a phone must compare everything it holds with everything there is.
const (
	// CompareForgotten: since the phone was here last, deletions more than a
	// year old have been forgotten. What the server does not list is deleted.
	CompareForgotten = "forgotten"
	// CompareOther: this is another file than the one the phone knows: new,
	// restored, or somebody else's. What differs has to be pushed.
	CompareOther = "other"
)

// A Feed is one page of what changed.
type Feed struct {
	Cursor    uint64     `json:"cursor"`            // to ask with next
	More      bool       `json:"more"`              // there is another page already
	Garage    string     `json:"garage"`            // to ask with next; says which file this is
	Compare   string     `json:"compare,omitempty"` // CompareForgotten, CompareOther or nothing
	Kept      int        `json:"kept"`              // copies that wait for a choice, in the whole garage
	Documents []Document `json:"documents"`
}

// Feed returns the documents that changed after a place, oldest change first
// and deleted ones included: at most limit of them (0: PageDocuments) and not
// much more than two megabytes. A phone keeps Cursor and Garage of each page
// when it has stored the page, and can break off and go on at any page.
//
// When Compare says something, the page is the first of everything, and the
// phone must go through all pages, then settle what it holds and was not
// listed (see CompareForgotten and CompareOther).
func (s *Store) Feed(from Place, limit int) (f Feed, err error) {
	if limit <= 0 || limit > PageDocuments {
		limit = PageDocuments
	}
	err = s.db.View(func(tx *bolt.Tx) error {
		f = Feed{Documents: []Document{}}
		id, mark := garageID(tx), purgeMark(tx)
		f.Garage = id + "." + strconv.FormatUint(mark, 10)
		f.Kept = tx.Bucket(bucketKept).Stats().KeyN
		last := tx.Bucket(bucketFeed).Sequence()
		if f.Compare = compares(from, id, mark, last); f.Compare != "" {
			from.Cursor = 0
		}
		f.Cursor = from.Cursor
		return f.fill(tx, limit)
	})
	if err != nil {
		return Feed{}, fmt.Errorf("read changes: %w", err)
	}
	return f, nil
}

func (f *Feed) fill(tx *bolt.Tx, limit int) error {
	c := tx.Bucket(bucketFeed).Cursor()
	size := 0
	for k, key := c.Seek(feedKey(f.Cursor + 1)); k != nil; k, key = c.Next() {
		if len(f.Documents) == limit || size > pageBytes {
			f.More = true
			return nil
		}
		r, err := load(tx, key)
		if err != nil {
			return err
		}
		if r == nil {
			return fmt.Errorf("%w: the feed names %q, which is missing", ErrDamaged, key)
		}
		f.Documents = append(f.Documents, r.Document)
		f.Cursor = binary.BigEndian.Uint64(k)
		size += len(r.Body)
	}
	f.Cursor = tx.Bucket(bucketFeed).Sequence()
	return nil
}

// compares says whether a phone at a place must compare everything. One that
// began at the start after deletions were forgotten carries their mark; one
// that found an empty garage then has been nowhere since, and pushed perhaps.
func compares(from Place, id string, mark, last uint64) string {
	knownID, knownMark, _ := strings.Cut(from.Garage, ".")
	switch {
	case from.Garage != "" && knownID != id, from.Cursor > last:
		return CompareOther
	case from.Garage == "":
		return "" // it has met no garage, and a phone asks before it pushes
	}
	if n, err := strconv.ParseUint(knownMark, 10, 64); from.Cursor < mark && (err != nil || n < mark) {
		return CompareForgotten
	}
	return ""
}

func garageID(tx *bolt.Tx) string { return string(tx.Bucket(bucketMeta).Get(keyGarage)) }

// purgeMark is the cursor of the last deletion that was forgotten.
func purgeMark(tx *bolt.Tx) uint64 {
	if v := tx.Bucket(bucketMeta).Get(keyPurged); len(v) == 8 {
		return binary.BigEndian.Uint64(v)
	}
	return 0
}

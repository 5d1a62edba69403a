package store

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"regexp"
	"time"
)

// MaxBody is the most bytes the body of one document may have, 1 MiB. Chosen:
// a year of readings of one car is some tens of kilobytes.
const MaxBody = 1 << 20

// A Document is one version of something in the garage.
type Document struct {
	Kind      string          `json:"kind"`
	ID        string          `json:"id"`
	Revision  string          `json:"revision"`
	ChangedAt time.Time       `json:"changedAt"`
	Deleted   bool            `json:"deleted"`
	Body      json.RawMessage `json:"body"` // {} when deleted
}

// A Change is what a phone pushes: the new body, when it was typed, and the
// revision it was edited from ("" for a new document).
type Change struct {
	Kind, ID, Base string
	ChangedAt      time.Time // as the phone's clock had it
	Device         string    // name of the phone, for the names of kept copies
	Deleted        bool      // a deletion; the body is not looked at
	Body           json.RawMessage

	Received time.Time              // when it arrived; zero: now
	Fits     func(body []byte) bool // whether a united body may stand; nil: any may
}

// An Answer tells how a push ended.
type Answer struct {
	Revision string    `json:"revision"`           // of the version that was pushed
	Cursor   uint64    `json:"cursor"`             // of the feed after the push
	Kept     bool      `json:"kept"`               // two versions met; one of them is a kept copy now
	Document *Document `json:"document,omitempty"` // what is current, when it is not what was pushed
}

var (
	kindShape = regexp.MustCompile(`^[a-z]{1,16}$`)
	idShape   = regexp.MustCompile(`^[a-z0-9]{16,32}$`)
	emptyBody = json.RawMessage(`{}`)
)

// ValidID reports whether the store takes this id: 16 to 32 of a-z and 0-9.
func ValidID(id string) bool { return idShape.MatchString(id) }

// document makes the version a change asks for, with spaces outside strings
// taken out of its body so that layout is not a difference.
func (c Change) document() (Document, error) {
	d := Document{Kind: c.Kind, ID: c.ID, ChangedAt: c.ChangedAt.UTC(), Deleted: c.Deleted, Body: emptyBody}
	if c.Deleted {
		return d, d.check()
	}
	if len(c.Body) > MaxBody {
		return d, fmt.Errorf("%s %s: %w", c.Kind, c.ID, ErrTooLarge)
	}
	var compact bytes.Buffer
	if err := json.Compact(&compact, c.Body); err != nil {
		return d, fmt.Errorf("%w: %v", ErrBody, err)
	}
	d.Body = compact.Bytes()
	if len(d.Body) == 0 || d.Body[0] != '{' {
		return d, ErrBody
	}
	return d, d.check()
}

// check refuses keys and times the store does not take.
func (d Document) check() error {
	if !kindShape.MatchString(d.Kind) || !idShape.MatchString(d.ID) {
		return fmt.Errorf("%.40q %.40q: %w", d.Kind, d.ID, ErrKey)
	}
	if !isDate(d.ChangedAt) {
		return ErrTime
	}
	return nil
}

// Years a change may be of. Chosen: wide enough for every phone whose clock is
// set at all.
const earliestYear, latestYear = 2000, 2200

func isDate(at time.Time) bool {
	return at.UTC().Year() >= earliestYear && at.UTC().Year() <= latestYear
}

// revisionFrom gives the revision of a version edited from base. The digest is
// part of the stored format: a phone compares it with what it holds.
func (d Document) revisionFrom(base string) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s/%s\n%s\n%s\n%t\n", d.Kind, d.ID, base, d.ChangedAt.Format(time.RFC3339Nano), d.Deleted)
	h.Write(d.Body)
	return hex.EncodeToString(h.Sum(nil)[:16])
}

func (d Document) key() []byte { return []byte(d.Kind + "/" + d.ID) }

// versionKey is where kept copies and answers of this version live.
func (d Document) versionKey() []byte { return []byte(d.Kind + "/" + d.ID + "/" + d.Revision) }

// isIdentical compares byte for byte, sameContent by meaning.
func isIdentical(a, b Document) bool {
	return a.Deleted == b.Deleted && bytes.Equal(a.Body, b.Body)
}

func sameContent(a, b Document) bool {
	return a.Deleted == b.Deleted && sameJSON(a.Body, b.Body)
}

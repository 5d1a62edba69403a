package store

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	bolt "go.etcd.io/bbolt"
)

// MaxKept is how many unresolved copies a document has at most. Chosen: more
// than a person will look through; reached only when nobody chooses for long.
const MaxKept = 100

// Why a copy was kept.
const (
	WhyBoth    = "changed in two places" // the other version became current
	WhyDeleted = "deleted elsewhere"     // the document was deleted by someone who had not seen this version
)

// A Copy is a version that was set aside until someone chooses.
type Copy struct {
	Document
	Name   string    `json:"name"`   // "NAME (from DEVICE, DATE)"
	Device string    `json:"device"` // where it was typed, or ""
	KeptAt time.Time `json:"keptAt"` // by the server's clock
	Why    string    `json:"why"`    // WhyBoth or WhyDeleted
}

// Kept returns the copies of a document, the oldest first.
func (s *Store) Kept(kind, id string) (kept []Copy, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		kept, err = keptUnder(tx, append(Document{Kind: kind, ID: id}.key(), '/'))
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read kept copies of %.40q %.40q: %w", kind, id, err)
	}
	return kept, nil
}

// AllKept returns every copy that waits for a choice, the oldest first.
func (s *Store) AllKept() (kept []Copy, err error) {
	err = s.db.View(func(tx *bolt.Tx) error {
		kept, err = keptUnder(tx, nil)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("read kept copies: %w", err)
	}
	return kept, nil
}

// keep lays a version aside, unless one that says the same is there already:
// then isNew is false. One of a revision that another copy has, or that was
// chosen about as something else, gets a revision of its own: a file that
// somebody edited may say so.
func keep(tx *bolt.Tx, v Version, why string, now time.Time) (isNew bool, err error) {
	kept, err := keptUnder(tx, append(v.key(), '/'))
	if err != nil {
		return false, err
	}
	for _, k := range kept {
		if sameContent(k.Document, v.Document) {
			return false, nil
		}
	}
	if len(kept) >= MaxKept {
		return false, ErrTooManyKept
	}
	key := v.versionKey()
	for tx.Bucket(bucketKept).Get(key) != nil || tx.Bucket(bucketChosen).Get(key) != nil {
		v.Revision = v.revisionFrom(v.Revision + "+file")
		key = v.versionKey()
	}
	value, err := encode(bucketKept, key, record{Document: v.Document, Device: v.Device, Received: now, Why: why})
	if err != nil {
		return false, err
	}
	return true, put(tx, bucketKept, key, value)
}

func keptUnder(tx *bolt.Tx, prefix []byte) (kept []Copy, err error) {
	c := tx.Bucket(bucketKept).Cursor()
	for k, v := c.Seek(prefix); k != nil && bytes.HasPrefix(k, prefix); k, v = c.Next() {
		r, err := decode(bucketKept, k, v)
		if err != nil {
			return nil, err
		}
		kept = append(kept, r.asCopy())
	}
	slices.SortStableFunc(kept, func(a, b Copy) int { return a.KeptAt.Compare(b.KeptAt) })
	return kept, nil
}

func (r record) asCopy() Copy {
	return Copy{Document: r.Document, Name: copyName(r.Document, r.Device), Device: r.Device,
		KeptAt: r.Received, Why: r.Why}
}

// longestName is how many characters of a copy's name a list shows: as many as
// a car's name may have.
const longestName = 80

var (
	copySuffix = regexp.MustCompile(`( \(from [^()]*, \d{4}-\d\d-\d\d\))+$`)
	unfit      = regexp.MustCompile(`[<>()\pC]`)
)

// copyName is "NAME (from DEVICE, DATE)" as a list shows it: a long name is
// shortened. A copy's name is not lengthened again.
func copyName(d Document, device string) string {
	name, suffix := copyNameParts(d, device)
	return shorten(name, longestName-len([]rune(suffix))) + suffix
}

// wholeCopyName is the same with nothing of the name cut.
func wholeCopyName(d Document, device string) string {
	name, suffix := copyNameParts(d, device)
	return name + suffix
}

func copyNameParts(d Document, device string) (name, suffix string) {
	device = unfit.ReplaceAllString(device, "")
	if device = shorten(strings.TrimSpace(device), 24); device == "" {
		device = "another device"
	}
	suffix = fmt.Sprintf(" (from %s, %s)", device, d.ChangedAt.Format(time.DateOnly))
	return copySuffix.ReplaceAllString(nameOf(d), ""), suffix
}

func shorten(text string, length int) string {
	if r := []rune(text); len(r) > length {
		return string(r[:length-1]) + "…"
	}
	return text
}

// nameOf says in words which document this is.
func nameOf(d Document) string {
	var said struct {
		Name, Title, Date json.RawMessage
	}
	_ = json.Unmarshal(d.Body, &said) // what cannot be read has no name
	for _, raw := range []json.RawMessage{said.Name, said.Title} {
		var text string
		if json.Unmarshal(raw, &text) == nil && strings.TrimSpace(text) != "" {
			return strings.TrimSpace(text)
		}
	}
	var date string
	if json.Unmarshal(said.Date, &date) == nil && date != "" {
		return d.Kind + " of " + date
	}
	return d.Kind
}

// renamed is the body under another name: "title" where there is one and no
// "name", else "name".
func renamed(body json.RawMessage, name string) json.RawMessage {
	f, _ := members(body)
	key := "name"
	if f.get("name") == nil && f.get("title") != nil {
		key = "title"
	}
	return f.with(map[string]json.RawMessage{key: text(name)}, keysOf(f, fields{{key, text(name)}}))
}

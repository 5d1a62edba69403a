package store

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	bolt "go.etcd.io/bbolt"
)

// What can be done with a kept copy.
const (
	TakeKept    = "kept"    // the copy becomes current
	TakeCurrent = "current" // the current version stays
	TakeBoth    = "both"    // the copy becomes a document of its own
)

// A Choice is what a person decided after seeing both versions.
type Choice struct {
	Take    string
	Current string // revision of the current version that was looked at
	NewID   string // for TakeBoth: the id of the new document
	Device  string
	Now     time.Time              // zero: now
	Fits    func(body []byte) bool // whether a body may stand; nil: any may
}

// A Chosen tells what came of it.
type Chosen struct {
	Take     string    `json:"take"`
	Cursor   uint64    `json:"cursor"`        // of the feed after it
	Document Document  `json:"document"`      // what is current now
	New      *Document `json:"new,omitempty"` // the document made by TakeBoth
}

// Choose ends the waiting of a copy. Where the copy becomes current it stands
// in every piece that differs; sets, readings and facts that only the other
// has are not dropped. The copy and what it replaced are remembered as past
// versions.
//
// It returns ErrNotFound when there is no such copy, ErrMoved when the
// document has changed since it was looked at, ErrChosen when another choice
// was made before, ErrTaken when NewID is in use, and ErrTooLarge when both
// together do not fit. The same choice again gives the same answer.
func (s *Store) Choose(kind, id, revision string, c Choice) (chosen Chosen, err error) {
	if c.Now.IsZero() {
		c.Now = time.Now()
	}
	c.Now = c.Now.UTC()
	version := Document{Kind: kind, ID: id, Revision: revision}
	err = s.db.Update(func(tx *bolt.Tx) error {
		chosen, err = choose(tx, version, c)
		chosen.Cursor = tx.Bucket(bucketFeed).Sequence()
		return err
	})
	if err != nil {
		return Chosen{}, fmt.Errorf("choose about %.40q %.40q: %w", kind, id, writingError(err))
	}
	return chosen, nil
}

// A decided choice is remembered, for when it comes again.
type decided struct {
	Take  string    `json:"take"`
	NewID string    `json:"newId,omitempty"`
	At    time.Time `json:"at"`
	Says  string    `json:"says,omitempty"` // of the copy: its saying; none before there was this
}

// saying is a digest of what a copy says, whatever its revision.
func saying(d Document) string {
	sum := sha256.Sum256(d.Body)
	return hex.EncodeToString(sum[:16])
}

func choose(tx *bolt.Tx, version Document, c Choice) (Chosen, error) {
	value := tx.Bucket(bucketKept).Get(version.versionKey())
	if value == nil {
		return chosenBefore(tx, version, c)
	}
	kept, err := decode(bucketKept, version.versionKey(), value)
	if err != nil {
		return Chosen{}, err
	}
	current, err := load(tx, version.key())
	if err != nil {
		return Chosen{}, err
	}
	if current == nil {
		return Chosen{}, fmt.Errorf("%w: a copy of %q has no document", ErrDamaged, version.key())
	}
	if current.Revision != c.Current {
		return Chosen{}, ErrMoved
	}
	c.Now = timeOfChoice(current, kept, c.Now)
	switch c.Take {
	case TakeKept:
		err = takeKept(tx, current, kept, c)
	case TakeBoth:
		err = takeBoth(tx, kept, c)
	case TakeCurrent:
	default:
		err = ErrTake
	}
	if err == nil {
		err = decide(tx, kept, c)
	}
	if err != nil {
		return Chosen{}, err
	}
	return chosenBefore(tx, version, c)
}

func takeKept(tx *bolt.Tx, current, kept *record, c Choice) error {
	next := kept.Document
	next.ChangedAt = c.Now
	if !current.Deleted {
		next.Body, _ = unite(nil, current.Body, kept.Body)
	}
	if len(next.Body) > MaxBody || c.Fits != nil && !c.Fits(next.Body) {
		return ErrTooLarge
	}
	next.Revision = next.revisionFrom(current.Revision + "+" + kept.Revision)
	if err := remember(tx, *current); err != nil {
		return err
	}
	return save(tx, current, record{Document: next, Device: c.Device, Received: c.Now})
}

// timeOfChoice is the time of the server's clock, or, where that is not set,
// that of the later of the two versions: the phone is not to blame for it.
func timeOfChoice(current, kept *record, now time.Time) time.Time {
	if ClockIsSet(now) {
		return now
	}
	if isLater(kept.Document, current.Document) {
		return kept.ChangedAt
	}
	return current.ChangedAt
}

func takeBoth(tx *bolt.Tx, kept *record, c Choice) error {
	next := Document{Kind: kept.Kind, ID: c.NewID, ChangedAt: c.Now}
	if err := next.check(); err != nil {
		return err
	}
	if next.Body = copied(kept, c.Fits); next.Body == nil {
		return ErrTooLarge
	}
	if there, err := load(tx, next.key()); err != nil {
		return err
	} else if there != nil {
		return ErrTaken
	}
	next.Revision = next.revisionFrom("")
	return save(tx, nil, record{Document: next, Device: c.Device, Received: c.Now})
}

// copied is the body under the name of a copy, whole. Where that is longer than
// a name may be, the copy keeps its own name, and nothing is cut. nil: it does
// not fit either way.
func copied(kept *record, fits func(body []byte) bool) json.RawMessage {
	for _, body := range []json.RawMessage{renamed(kept.Body, wholeCopyName(kept.Document, kept.Device)), kept.Body} {
		if len(body) <= MaxBody && (fits == nil || fits(body)) {
			return body
		}
	}
	return nil
}

// decide takes the copy out of the list and notes the choice.
func decide(tx *bolt.Tx, kept *record, c Choice) error {
	kept.Received = c.Now // it is past from now on
	if err := remember(tx, *kept); err != nil {
		return err
	}
	if err := drop(tx, bucketKept, kept.versionKey()); err != nil {
		return err
	}
	value, err := json.Marshal(decided{c.Take, c.NewID, c.Now, saying(kept.Document)})
	if err != nil {
		return err
	}
	key := kept.versionKey()
	return put(tx, bucketChosen, key, sealed(bucketChosen, key, sealedEntry, value))
}

// chosenBefore answers for a choice that has been made.
func chosenBefore(tx *bolt.Tx, version Document, c Choice) (Chosen, error) {
	value := tx.Bucket(bucketChosen).Get(version.versionKey())
	if value == nil {
		return Chosen{}, ErrNotFound
	}
	var before decided
	if err := readEntry(bucketChosen, version.versionKey(), value, &before); err != nil {
		return Chosen{}, err
	}
	if before.Take != c.Take || before.Take == TakeBoth && before.NewID != c.NewID {
		return Chosen{}, ErrChosen
	}
	current, err := load(tx, version.key())
	if err != nil {
		return Chosen{}, err
	}
	if current == nil {
		return Chosen{}, ErrNotFound
	}
	chosen := Chosen{Take: before.Take, Document: current.Document}
	if before.Take == TakeBoth {
		made, err := load(tx, Document{Kind: version.Kind, ID: before.NewID}.key())
		if err != nil {
			return Chosen{}, err
		}
		if made != nil {
			chosen.New = &made.Document
		}
	}
	return chosen, nil
}

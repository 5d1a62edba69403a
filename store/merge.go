package store

import "time"

// The rules of sync, in plain words. Only the server decides; a phone pushes
// what it has, names the revision it was edited from (the base), and takes
// what the server answers. Merge is pure: no clock, no file, no chance.
//
//  1. Nothing there yet: what comes in is current.
//  2. Both say the same: what is there stays.
//  3. The base is the current revision: who typed this had seen what it
//     replaces, so it becomes current.
//  4. One is a deletion and the other an edit that did not know of it: the
//     deletion stands, whichever came first, and the edited version is kept as
//     a copy.
//  5. Two edits that did not know of each other are united:
//     - lists whose items carry ids (sets in a visit, readings in a set, and
//     any such list that comes later) are united by id; no item is dropped.
//     An item that was taken out carries the mark "removed" and stays out;
//     - "facts" are united by key;
//     - all the rest of a document, of a set, of a reading or of a fact is one
//     piece and is never mixed.
//     A piece that only one side changed, compared with the base, is taken
//     from that side. A piece that both changed, or of which the base is no
//     longer known, is taken from the newer version; the older version is then
//     kept whole, as a copy named "NAME (from DEVICE, DATE)".
//  6. If the united document would be larger than a document may be, the newer
//     version is current and the older is kept whole.
//
// So every value anybody typed is in the current version or in a kept copy,
// unless somebody who had it on the screen replaced it, or chose another.
//
// Newer is by the time the phone gave (changedAt), and that is a hint, not a
// fact: a time later than the server's own clock counts as the moment of
// arrival, so a phone whose clock runs ahead does not win for ever; one whose
// clock runs behind loses, and is kept. At equal times the greater revision is
// the newer, so that the order of arrival plays no part. A server's clock that
// was never set (a year before there was this program) sets no such bound.
//
// A kept copy is not a document: nobody pushes to it, so a conflict on a copy
// cannot make another. It waits until someone chooses ([Store.Choose]), for
// ever if need be. A document has at most MaxKept of them; a push that would
// need one more is refused with ErrTooManyKept, stays on the phone, and goes
// through once someone has chosen. No copy is dropped to make room.

// A Version is a document and the device it was typed on.
type Version struct {
	Document
	Device string
}

// A Merged tells what becomes of two versions.
type Merged struct {
	Document Document // current from now on
	Kept     *Version // the version to set aside, or nil
}

// Merge decides between the current version (nil: none) and one edited from
// base. ancestor is the version of that revision when it is still known, else
// nil. fits says whether a united body may stand; nil: any may. The rules
// stand above.
func Merge(current *Version, incoming Version, base string, ancestor *Document, fits func(body []byte) bool) Merged {
	switch {
	case current == nil, current.Revision == base && !isIdentical(current.Document, incoming.Document):
		return Merged{Document: incoming.Document}
	case sameContent(current.Document, incoming.Document):
		return Merged{Document: current.Document}
	case current.Deleted:
		return Merged{current.Document, &incoming}
	case incoming.Deleted:
		return Merged{incoming.Document, current}
	}
	older, newer := current, &incoming
	if isLater(current.Document, incoming.Document) {
		older, newer = newer, older
	}
	body, isLost := unite(bodyOf(ancestor), older.Body, newer.Body)
	if len(body) > MaxBody || fits != nil && !fits(body) {
		return Merged{newer.Document, older}
	}
	united := Document{Kind: newer.Kind, ID: newer.ID, ChangedAt: newer.ChangedAt, Body: body}
	for _, same := range []Document{current.Document, incoming.Document} {
		if sameContent(same, united) {
			united = same
			break
		}
	}
	if united.Revision == "" {
		united.Revision = united.revisionFrom(current.Revision + "+" + incoming.Revision)
	}
	if isLost {
		return Merged{united, older}
	}
	return Merged{Document: united}
}

func isLater(a, b Document) bool {
	if a.ChangedAt.Equal(b.ChangedAt) {
		return a.Revision > b.Revision
	}
	return a.ChangedAt.After(b.ChangedAt)
}

// ClockIsSet reports whether a server's clock can be right: not before there
// was this program. One that is not set, as after its battery has died, says
// nothing of any time.
func ClockIsSet(now time.Time) bool { return now.Year() >= firstYear }

// firstYear is the year in which the first garage file was written.
const firstYear = 2026

// arrival is when a change came by the server's clock or, where that is not
// set, by the phone's.
func arrival(received, changedAt time.Time) time.Time {
	if ClockIsSet(received) || changedAt.Before(received) {
		return received
	}
	return changedAt
}

// believable is the time a change counts with: no later than its arrival.
func believable(changedAt, received time.Time) time.Time {
	if changedAt.After(received) {
		return received
	}
	return changedAt
}

func bodyOf(d *Document) []byte {
	if d == nil || d.Deleted {
		return nil
	}
	return d.Body
}

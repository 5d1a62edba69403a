// Package store keeps the garage's documents in one bbolt file.
//
// For most uses: [Open] a file, [Store.Put] what was typed, ask [Store.Since]
// for what changed after a cursor, and [Store.Close] when done.
//
// A document is a JSON object known by a kind and an id. The store knows
// nothing of what is inside it; whoever calls checks that first.
//
// # Revisions
//
// Every accepted version has a revision, a digest of what it was edited from,
// when, and what it says. A push names the revision it was edited from, its
// base. When the base is the current revision the push replaces it. When it is
// not, two people changed the same document without knowing of each other;
// [Merge] says what happens then, and that nothing is lost. A push sent twice
// is answered twice and stored once.
//
// # Buckets
//
//	meta       version of the layout, name of this file, mark of forgotten deletions, sums
//	documents  kind/id           → the current version
//	feed       cursor, 8 bytes   → kind/id, one entry a document, newest last
//	kept       kind/id/revision  → a copy that waits for a choice
//	past       kind/id/order     → a version that was current, or was merged
//	answers    kind/id/revision  → how that push was answered
//	chosen     kind/id/revision  → what was chosen about that copy
//	photos     digest of a photo → the photo, which is its own check sum
//	devices    digest of a token → a device the garage is open to
//	codes      digest of a code  → a pairing code that is open
//	broken     bucket/digest     → an entry that was not as it was written, whole
//
// An entry is a byte of state, four bytes of check sum, and JSON. The sum holds
// for that bucket and that key alone, and the sums in meta tell of each bucket
// how many entries it has; a photo is its own sum, the feed that of the
// documents.
//
// # Keeping
//
// [Store.CopyTo] and [Store.CopyToday] copy while others write; [Inspect] reads
// and checks a file without changing it; [Restore] and [SetAside] replace and
// move, and never delete. [Mend] makes a damaged file usable: the rest goes on,
// and what is broken is kept apart.
//
// # Promises
//
// When a call that writes returns without an error, the change is on the disk.
// One process holds the file at a time. Cursors only grow. Slices handed out
// are copies and belong to the caller.
//
// # Caveats
//
// The file does not shrink when documents are deleted. [Store.Tidy] has to be
// run once a day by whoever serves. A check sum finds chance, not malice. A
// photo is kept for good, also one that no document names any more, and so is
// what was set apart as broken.
package store

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
// not, two people changed the same document without knowing of each other: the
// later change becomes current and the other is kept beside it, see
// [Store.Kept]. A push sent twice is answered twice and stored once.
//
// # Buckets
//
//	meta       version of the layout
//	documents  kind/id           → state byte, then the current version as JSON
//	feed       cursor, 8 bytes   → kind/id, one entry a document, newest last
//	kept       kind/id/revision  → a version that lost against another
//	answers    kind/id/revision  → how that push was answered
//	devices    hash of a token   → a paired device
//	codes      hash of a code    → until when it is open, and for whom
//
// # Promises
//
// When a call that writes returns without an error, the change is on the disk.
// One process holds the file at a time. Cursors only grow. Slices handed out
// are copies and belong to the caller.
//
// # Caveats
//
// The file does not shrink when documents are deleted. The record of answered
// pushes grows by some sixty bytes a push and is not pruned.
package store

// Package infer weighs accounts of one distributor against each other: what
// was read, and what the book allows, go in; shares of belief come out.
//
// The sound unit is every governor whose curve the book's rows allow. An
// account is a change to that unit, or to the way it was read: a weak spring,
// a moved base, degrees typed in the wrong unit. Each account's evidence is
// the likelihood of all the readings, averaged over the governors and over the
// sizes the change may have; it is found by annealed sampling. Shares of
// the accounts add up to one, with "other" for none of them.
//
// Stages: Book and Reading (evidence) → unit prior → accounts → Result.
// Nothing here knows words for the screen, JSON or crank degrees: angles are
// distributor degrees and speeds distributor rpm throughout.
package infer

// Package finding holds the shape of a conclusion, the same in every room
// that judges: what it is, which part, which way, how sure, what would
// disprove it, the working and the sources.
package finding

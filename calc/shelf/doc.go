// Package shelf asks which of the distributors that lie about comes nearest to
// what a car's book wants, and with which smallest change.
//
// Start with Nearest. Rotation, cylinders, drive and capsule are hard
// conditions: what is known to be wrong is refused, what is not known is to be
// found out first. What is left is held against the book by a quick posterior
// of its governor (calc/advance/infer, Near), as it is and after the repairs
// that advance.prescribe knows, reckoned for all units alike: one unit's answer
// hangs on nothing but that unit.
//
// It is quick because it is rough: it draws no accounts, so it cannot tell that
// figures were typed in the wrong unit, that the bench ring was moved far, or that a
// part is seized. The unit that is chosen is to be judged by advance.judge.
//
// Inside the room all is degrees and rpm of a shaft at half engine speed, which
// nearly every distributor is.
package shelf

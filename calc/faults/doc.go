// Package faults is the room of the fault hunt: from what a car does and what
// is measured of it to the likeliest causes, with their reasons, and to the
// test that tells most for its minutes.
//
// What is known stands in data/*.json, which a person can read and translate:
// causes, symptoms with their weights, tests with their outcomes, and what is
// only known from the file. knowledge.go reads it.
//
// A hypothesis is: none of the causes listed, one of them, or two at once;
// there are some 1,650, and all are gone through, so that nothing is
// approximated (network.go). Symptoms, what was changed last, tests and facts
// each multiply them by a likelihood (symptoms.go, evidence.go, onfile.go,
// checks.go). next.go gives what each test is still worth, expect.go what it
// should show on this car, because.go what moved each cause.
//
// Priors, likelihoods and minutes are judgement of the trade, no counts are
// known. They are believed by a factor of two at most; the tests of this
// package measure what that does to the answers.
package faults

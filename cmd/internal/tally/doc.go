// Command tally reads the output of go test -json, shows what failed and why,
// and counts. A test that was skipped counts as a failure of the run: a check
// that did not happen must not look like one that passed.
//
//	go test -json ./... | go run ./cmd/internal/tally -sum FILE
//
// It adds a line "PASSED FAILED" to FILE and ends with status 1 when anything
// failed or was skipped, or when no test ran at all.
package main

// Command release builds the archives that go to those who have no Go:
//
//	go run ./cmd/internal/release            # into .release
//	go run ./cmd/internal/release -o DIR
//
// It takes the last commit, and nothing that is not in it, into a folder of
// its own, runs go generate there, and builds cmd/pointsmith for every target.
// Each archive holds the program, README.md, LICENCES.txt (the full text of every
// licence of what is linked or shipped) and pointsmith.cdx.json, a software bill of
// materials in CycloneDX 1.5. Beside the archives lies SHA256SUMS. Two runs on
// one commit with one version of Go give the same bytes, wherever they run.
package main

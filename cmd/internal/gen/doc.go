// Command gen builds the phone's calculation engine into pwa/app/wasm. It is
// run by go generate at the top of the repository and writes there
//
//	pointsmith.wasm             cmd/wasm, the same bytes on every machine
//	pointsmith.wasm.gz, .br     compressed copies, made again only when the engine changed
//	wasm_exec.js                from the Go installation that built the engine; the two belong together
//	build.json                  Go version, sizes and digest
//
// Beside that it writes what the app knows of the garage's documents, out of
// cmd/internal/shape: pwa/app/made/shapes.js and, for the type checker,
// pwa/test/shapes.d.ts.
//
// None of these is committed.
package main

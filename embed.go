// Package pointsmith carries the phone app inside the binary.
//
// The app lives in pwa/app as it is written; the calculation engine beside it
// (pwa/app/wasm), the shapes of documents and the bundle of its modules
// (pwa/app/made) are made by go generate and are not committed. A binary built
// without that step works, but its phones ask the server for every calculation
// and fetch every module by itself; it says so at start and on /api/v1/status.
package pointsmith

import "embed"

//go:generate go run ./cmd/internal/gen

// App is the phone app: everything under pwa/app, with that prefix.
//
//go:embed all:pwa/app
var App embed.FS

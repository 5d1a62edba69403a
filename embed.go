// Package pointsmith carries the phone app inside the binary.
//
// The app lives in pwa/app exactly as it is written; the calculation engine
// beside it (pwa/app/wasm) is built by go generate and is not committed. A
// binary built without that step works, but its phones ask the server for
// every calculation; it says so at start and on /api/v1/status.
package pointsmith

import "embed"

//go:generate go run ./cmd/internal/gen

// App is the phone app: everything under pwa/app, with that prefix.
//
//go:embed all:pwa/app
var App embed.FS

// Package e2e proves in a real browser what only a browser can prove: the
// whole job on a small touch screen, with the server killed, the browser
// killed, and both started again.
//
// Its tests carry the build tag e2e, because they want Chromium, Firefox,
// WebKitGTK and the engine that go generate builds:
//
//	go test -tags e2e ./cmd/internal/e2e/...
//	go test -tags e2e -run '^$' -bench . ./cmd/internal/e2e
//
// # How they work
//
// A page is used as a person uses it: controls are found by role and name, as
// a screen reader finds them, and are tapped where they are on the screen, if
// nothing covers them. Nothing waits for a time to pass; everything waits for
// something to be seen.
//
// "No server" means that the process is dead or nothing listens, never
// network emulation, which does not reach a service worker. Every page is
// watched: an error on the console, a request that fails or one that leaves
// the origin fails its test, unless the test said before what to expect.
//
// Everything listens on 127.0.0.1, lives in one temporary folder, and is
// stopped at the end; a process left behind fails the run. At most two
// browsers run at a time, beside the one that the tests share.
//
// The main journeys are written for hands, which any browser has, and are made
// in Firefox and WebKit as well (other_engines_test.go).
package e2e

// Package webdriver drives the browsers of a Debian-like machine for tests:
// Firefox ESR, and WebKitGTK, the engine nearest to the phones that run no
// other.
//
// The commands are those of W3C WebDriver (https://www.w3.org/TR/webdriver2/).
// WebKitGTK comes with a program that takes them over HTTP. Firefox takes the
// same commands itself, over a socket of its own, so no program between is
// needed. A [Session] hides which.
//
// Everything listens on 127.0.0.1 at a port that the machine chose, and
// writes into the folder that the caller gives. Close ends every process.
package webdriver

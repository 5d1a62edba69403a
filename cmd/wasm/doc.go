//go:build js && wasm

// Command wasm is the calculation engine for the phone: the same table of
// methods as everywhere, reachable from JavaScript as globalThis.pointsmith
//
//	call(method, jsonText) → {ok: true, text: output} or {ok: false, text: problem}
//	describe()             → the table of methods as JSON text
//
// It stays in memory until the worker that started it ends.
package main

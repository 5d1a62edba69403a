package assets

import "strings"

// Policy lets the app run its own scripts and nothing else. 'wasm-unsafe-eval'
// allows WebAssembly, not eval. blob: and data: are pictures the app draws.
var Policy = strings.Join([]string{
	"default-src 'self'", // the manifest's; WebKit knows no word for it and complains of the other browsers'
	"script-src 'self' 'wasm-unsafe-eval'",
	"worker-src 'self'",
	"style-src 'self'",
	"img-src 'self' data: blob:",
	"connect-src 'self'",
	"font-src 'none'",
	"media-src 'none'",
	"object-src 'none'",
	"frame-src 'none'",
	"base-uri 'none'",
	"form-action 'none'",
	"frame-ancestors 'none'",
	"require-trusted-types-for 'script'",
	"trusted-types pointsmith",
}, "; ")

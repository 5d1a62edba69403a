package main

import (
	"io"
	"runtime"

	"pointsmith"
)

// version of the program. A release raises it.
const version = "0.1.0"

func runVersion(t terminal, _ io.Reader, args []string) int {
	if len(args) > 0 {
		return t.fail(exitRefused, errNoArguments("version"))
	}
	engine := "with the calculation engine for phones"
	if _, err := pointsmith.App.Open("pwa/app/wasm/pointsmith.wasm"); err != nil {
		engine = "without the calculation engine for phones"
	}
	t.say("pointsmith %s (%s, %s/%s) %s", version, runtime.Version(), runtime.GOOS, runtime.GOARCH, engine)
	return exitDone
}

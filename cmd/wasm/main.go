//go:build js && wasm

package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"

	"pointsmith/calc"
)

func main() {
	install(js.Global())
	select {} // the functions live as long as the program
}

// install makes globalThis.pointsmith.
func install(global js.Value) {
	global.Set("pointsmith", map[string]any{
		"call":     js.FuncOf(call),
		"describe": js.FuncOf(describe),
	})
}

func call(_ js.Value, args []js.Value) any {
	if len(args) != 2 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString {
		return refused(fmt.Errorf("call takes a method's name and its input, both as text"))
	}
	out, err := answer(args[0].String(), []byte(args[1].String()))
	if err != nil {
		return refused(err)
	}
	return map[string]any{"ok": true, "text": string(out)}
}

// answer turns a fault of ours into an error, so that one bad input cannot
// stop the engine for the rest of the day.
func answer(method string, in []byte) (out []byte, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("%s stopped on this input: %v", method, fault)
		}
	}()
	return calc.Call(method, in)
}

func refused(err error) map[string]any {
	text, err := json.Marshal(calc.AsProblem(err))
	if err != nil { // a problem is made of strings and one number
		panic(err)
	}
	return map[string]any{"ok": false, "text": string(text)}
}

func describe(js.Value, []js.Value) any {
	text, err := json.Marshal(calc.Describe())
	if err != nil {
		return refused(err)
	}
	return string(text)
}

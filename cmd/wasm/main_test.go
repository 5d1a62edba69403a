//go:build js && wasm

package main

import (
	"encoding/json"
	"strings"
	"syscall/js"
	"testing"

	"pointsmith/calc"
)

func invoke(t *testing.T, args ...any) (ok bool, text string) {
	t.Helper()
	install(js.Global())
	v := js.Global().Get("pointsmith").Call("call", args...)
	return v.Get("ok").Bool(), v.Get("text").String()
}

func TestEveryExampleAnswersAsNative(t *testing.T) {
	for _, m := range calc.Describe() {
		want, err := calc.Call(m.Name, m.Example)
		if err != nil {
			t.Fatalf("%s: its example is refused: %v", m.Name, err)
		}
		if ok, text := invoke(t, m.Name, string(m.Example)); !ok || text != string(want) {
			t.Errorf("%s: %v %s, want %s", m.Name, ok, text, want)
		}
	}
}

func TestRefusalsAreProblems(t *testing.T) {
	for name, args := range map[string][]any{
		"unknown method": {"no.such", "{}"}, "broken": {"convert", "{"}, "unknown field": {"convert", `{"valu":1}`},
		"no arguments": {}, "number for text": {"convert", 5},
	} {
		ok, text := invoke(t, args...)
		var p calc.Problem
		if err := json.Unmarshal([]byte(text), &p); ok || err != nil || p.Status < 400 || p.Title == "" {
			t.Errorf("%s: %v %s, %v", name, ok, text, err)
		}
	}
}

func TestDescribeListsTheTable(t *testing.T) {
	install(js.Global())
	text := js.Global().Get("pointsmith").Call("describe").String()
	for _, m := range calc.Describe() {
		if !strings.Contains(text, `"name":"`+m.Name+`"`) {
			t.Errorf("%s is not described", m.Name)
		}
	}
}

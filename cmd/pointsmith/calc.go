package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"pointsmith/calc"
	"pointsmith/calc/refuse"
	"pointsmith/cmd/internal/plain"
)

func runCalc(t terminal, in io.Reader, args []string) int {
	switch {
	case len(args) == 0 || len(args) == 1 && isHelp(args[0]):
		listMethods(t)
		return exitDone
	case len(args) == 2 && isHelp(args[1]):
		return helpMethod(t, args[0])
	case len(args) > 1:
		return t.failWithHint(exitRefused, fmt.Errorf("%.40q is one word too many", args[1]),
			"give the input on standard input: pointsmith calc "+args[0]+" < in.json")
	}
	if _, ok := findMethod(args[0]); !ok {
		return refuseMethod(t, args[0])
	}
	return callMethod(t, in, args[0])
}

func callMethod(t terminal, in io.Reader, method string) int {
	if isTerminal(in) {
		t.warn("reading the input from the keyboard; do: end it with Ctrl-D, or give it with < in.json")
	}
	most := calc.MaxInput(method) // as over HTTP
	text, err := io.ReadAll(io.LimitReader(in, int64(most)+1))
	if err != nil {
		return t.fail(exitFailed, fmt.Errorf("read the input: %w", err))
	}
	if len(text) > most {
		return t.fail(exitRefused, refuse.Input("", "the input is too large", fmt.Sprintf("%d bytes", most),
			"leave something out"))
	}
	out, err := calc.Call(method, text)
	if err != nil {
		if bad := new(refuse.Error); errors.As(err, &bad) {
			return t.fail(exitRefused, err)
		}
		return t.fail(exitFailed, err)
	}
	if _, err := t.out.Write(append(plain.JSON(bytes.TrimSpace(out)), '\n')); err != nil {
		return t.fail(exitFailed, fmt.Errorf("write the answer: %w", err))
	}
	return exitDone
}

func findMethod(name string) (calc.Method, bool) {
	for _, m := range calc.Describe() {
		if m.Name == name {
			return m, true
		}
	}
	return calc.Method{}, false
}

func refuseMethod(t terminal, name string) int {
	var known []string
	for _, m := range calc.Describe() {
		known = append(known, m.Name)
	}
	return t.failWithHint(exitRefused, fmt.Errorf("%.40q is not a calculation", name),
		suggestion(name, known, "list them with pointsmith calc"))
}

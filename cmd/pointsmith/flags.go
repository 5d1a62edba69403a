package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
)

// names is a flag that may be given more than once.
type names []string

func (n *names) String() string { return strings.Join(*n, ", ") }

func (n *names) Set(name string) error {
	if name == "" || strings.ContainsAny(name, "/: ") {
		return errors.New("a host is a name alone, without http:// or port")
	}
	*n = append(*n, name)
	return nil
}

// parseFlags reads flags and refuses anything after them. wasHelp: the flags
// were asked for and have been shown.
func parseFlags(t terminal, flags *flag.FlagSet, args []string) (wasHelp bool, err error) {
	if wasHelp, err = readFlags(t, flags, args); wasHelp || err != nil {
		return wasHelp, err
	}
	if flags.NArg() > 0 {
		return false, fmt.Errorf("%.40q is one word too many; do: run pointsmith %s --help", flags.Arg(0), flags.Name())
	}
	return false, nil
}

// parseFlagsAnd reads flags and the one word that must follow them.
func parseFlagsAnd(t terminal, flags *flag.FlagSet, args []string, what string) (word string, wasHelp bool, err error) {
	if wasHelp, err = readFlags(t, flags, args); wasHelp || err != nil {
		return "", wasHelp, err
	}
	switch {
	case flags.NArg() == 0:
		return "", false, fmt.Errorf("%s is missing; do: run pointsmith %s %s", what, flags.Name(), what)
	case flags.NArg() > 1:
		return "", false, fmt.Errorf("%.40q is one word too many; do: put flags before %s", flags.Arg(1), what)
	}
	return flags.Arg(0), false, nil
}

func readFlags(t terminal, flags *flag.FlagSet, args []string) (wasHelp bool, err error) {
	flags.SetOutput(io.Discard) // the flag package would say it in its own words
	err = flags.Parse(args)
	if errors.Is(err, flag.ErrHelp) {
		t.say("pointsmith %s", flags.Name())
		flags.SetOutput(t.out)
		flags.PrintDefaults()
		return true, nil
	}
	if err != nil {
		return false, fmt.Errorf("%w; do: run pointsmith %s --help", err, flags.Name())
	}
	return false, nil
}

func errNoArguments(verb string) error {
	return fmt.Errorf("%s takes nothing after it; do: run pointsmith %s alone", verb, verb)
}

package main

import (
	"fmt"
	"io"
	"os"
	"strings"
)

// A verb is one thing the program does.
type verb struct {
	name, arguments, summary string
	run                      func(t terminal, in io.Reader, args []string) int
}

func verbs() []verb {
	return []verb{
		{"serve",
			"[-listen ADDRESS] [-data FILE] [-name NAME] [-host NAME] [-cert FILE -key FILE] [-log FILE] [-new] [-pair-all] " +
				"[-qr]",
			"serve the app and the garage (the verb may be left out)", runServe},
		{"calc", "[METHOD [--help]]", "run a calculation on standard input, or list them", runCalc},
		{"trust", "[-host NAME] [-print] [-new]", "make this garage's own https, which phones install once", runTrust},
		{"pair", "[-guest] [-list] [-revoke ID]", "make a one-time code that opens the garage to a phone", runPair},
		{"site", "[-force] [-compressed] DIR", "write the app as files for any https host, without a server", runSite},
		{"service", "[-system linux|macos|windows] [flags of serve] [FILE]",
			"write the file by which this machine serves from its start on, and say the steps; install nothing", runService},
		{"backup", "[-data FILE] FILE", "copy the garage file, while the server runs or not, and check the copy",
			runBackup},
		{"restore", "[-data FILE] [-try] FILE",
			"put a backup in the garage's place after checking it; what was there is set aside", runRestore},
		{"check", "[-data FILE]", "read and check the garage and its daily copies", runCheck},
		{"export", "[-data FILE] FILE", "write the whole garage as JSON, as phones do", runExport},
		{"import", "[-data FILE] FILE", "take in an exported garage; nothing here is thrown away", runImport},
		{"version", "", "say which version this is", runVersion},
	}
}

func main() {
	os.Exit(run(terminal{os.Stdout, os.Stderr}, os.Stdin, os.Args[1:]))
}

// run picks the verb: serve when there is none, or only flags of serve.
func run(t terminal, in io.Reader, args []string) int {
	name := "serve"
	if len(args) > 0 && isHelp(args[0]) {
		t.show(usage())
		return exitDone
	}
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
		name, args = args[0], args[1:]
	}
	var names []string
	for _, v := range verbs() {
		if v.name == name {
			return v.run(t, in, args)
		}
		names = append(names, v.name)
	}
	return t.failWithHint(exitRefused, fmt.Errorf("%.40q is not a verb; limit: %s", name, strings.Join(names, ", ")),
		suggestion(name, names, "run pointsmith --help"))
}

func isHelp(arg string) bool {
	return arg == "-h" || arg == "-help" || arg == "--help" || arg == "help"
}

func usage() string {
	var b strings.Builder
	b.WriteString("pointsmith sets up breaker-point distributors: the book's figures and your\nreadings in, a verdict and a mend out.\n\n")
	for _, v := range verbs() {
		fmt.Fprintf(&b, "  pointsmith %-8s %s\n", v.name, v.arguments)
		fmt.Fprintf(&b, "      %s\n", v.summary)
	}
	b.WriteString("\n  pointsmith                          start, and scan the code with the phone\n  pointsmith calc                     list the calculations with fields, units and limits\n  pointsmith calc advance.judge --help")
	return b.String()
}

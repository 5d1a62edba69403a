package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
)

// An event is one line of go test -json, see go doc test2json.
type event struct {
	Action, Package, ImportPath, Test, Output string
	Elapsed                                   float64
}

// A count is what came of a run of tests.
type count struct {
	passed, failed, skipped int
	out                     io.Writer
	said                    map[string][]string // output by package and test
	failedIn                map[string]bool     // packages with a test that failed
}

func newCount(out io.Writer) *count {
	return &count{out: out, said: map[string][]string{}, failedIn: map[string]bool{}}
}

func (c *count) isGood() bool { return c.passed > 0 && c.failed == 0 && c.skipped == 0 }

func (c *count) read(in io.Reader) error {
	lines := bufio.NewReader(in)
	for {
		line, err := lines.ReadBytes('\n')
		if len(line) > 0 {
			var e event
			if json.Unmarshal(line, &e) == nil && e.Action != "" {
				c.add(e)
			} else {
				fmt.Fprintf(c.out, "%s", line) // not go test's: shown as it is
			}
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

func (c *count) add(e event) {
	key := e.Package + " " + e.Test
	switch e.Action {
	case "output":
		c.said[key] = append(c.said[key], e.Output)
	case "build-output":
		fmt.Fprint(c.out, e.Output)
	case "pass", "skip", "fail":
		if e.Test == "" {
			c.endPackage(e, key)
		} else {
			c.endTest(e, key)
		}
		delete(c.said, key)
	}
}

func (c *count) endTest(e event, key string) {
	switch e.Action {
	case "pass":
		c.passed++
		return
	case "skip":
		c.skipped++
	case "fail":
		c.failed++
		c.failedIn[e.Package] = true
	}
	c.show(e, key)
}

// endPackage counts a package that failed although no test of it did: it did
// not build, or it stopped in the middle. One without tests is no failure.
func (c *count) endPackage(e event, key string) {
	if e.Action == "fail" && !c.failedIn[e.Package] {
		c.failed++
		c.show(e, key)
	}
}

func (c *count) show(e event, key string) {
	fmt.Fprintf(c.out, "%s %s %s\n", e.Action, e.Package, e.Test)
	for _, text := range c.said[key] {
		fmt.Fprint(c.out, "  ", text)
	}
}

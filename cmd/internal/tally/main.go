package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	sum := flag.String("sum", "", "file to add the counts to")
	flag.Parse()
	c := newCount(os.Stdout)
	if err := c.read(os.Stdin); err != nil {
		fmt.Fprintln(os.Stderr, "tally:", err)
		os.Exit(1)
	}
	fmt.Printf("%d passed, %d failed, %d skipped\n", c.passed, c.failed, c.skipped)
	if err := addTo(*sum, c); err != nil {
		fmt.Fprintln(os.Stderr, "tally:", err)
		os.Exit(1)
	}
	if !c.isGood() {
		os.Exit(1)
	}
}

func addTo(path string, c *count) error {
	if path == "" {
		return nil
	}
	f, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintln(f, c.passed, c.failed+c.skipped); err != nil {
		return err
	}
	return f.Close()
}

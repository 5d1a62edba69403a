package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"text/tabwriter"

	"pointsmith/calc"
	"pointsmith/calc/schema"
)

// listMethods shows every calculation with its fields, units and limits.
func listMethods(t terminal) {
	for _, m := range calc.Describe() {
		describeMethod(t, m)
		t.say("")
	}
	t.say("pointsmith calc METHOD --help shows an example that runs")
}

// helpMethod shows one calculation and an example to paste into a shell.
func helpMethod(t terminal, name string) int {
	m, ok := findMethod(name)
	if !ok {
		return refuseMethod(t, name)
	}
	describeMethod(t, m)
	var example bytes.Buffer
	if err := json.Compact(&example, m.Example); err != nil {
		return t.fail(exitFailed, fmt.Errorf("the example of %s is broken: %w", name, err))
	}
	t.say("\nexample:\n\npointsmith calc %s <<'END'\n%s\nEND", m.Name, example.Bytes())
	return exitDone
}

func describeMethod(t terminal, m calc.Method) {
	t.say("%s: %s", m.Name, m.Summary)
	columns := tabwriter.NewWriter(t.out, 0, 8, 2, ' ', 0)
	fmt.Fprintln(columns, "  in")
	describeFields(columns, "    ", m.In)
	fmt.Fprintln(columns, "  out")
	describeFields(columns, "    ", m.Out)
	_ = columns.Flush() // fails only when nobody reads on
}

// describeFields writes a line for each field; what is inside an object or a
// list follows, set in.
func describeFields(w io.Writer, indent string, o schema.Object) {
	for _, f := range o.Fields {
		name, inside := f.Name, f
		for inside.Items != nil {
			name += map[bool]string{true: "{}", false: "[]"}[inside.Kind == "map"]
			inside = *inside.Items
		}
		fmt.Fprintf(w, "%s%s\t%s\t%s\n", indent, name, strings.Join(limitWords(f, inside), ", "), f.Help)
		if inside.Object != nil {
			describeFields(w, indent+"  ", *inside.Object)
		}
	}
}

// limitWords says unit and limits of a field, inside being what a list of it
// is made of.
func limitWords(f, inside schema.Field) []string {
	words := []string{inside.Kind}
	if f.Required {
		words = append(words, "required")
	}
	if inside.Unit != "" {
		words = append(words, inside.Unit)
	}
	if len(inside.Enum) > 0 {
		words = append(words, strings.Join(inside.Enum, "|"))
	}
	for _, limit := range []struct {
		words string
		value *float64
	}{{"at least", inside.Min}, {"more than", inside.Over}, {"at most", inside.Max}, {"less than", inside.Under}} {
		if limit.value != nil {
			words = append(words, limit.words+" "+strconv.FormatFloat(*limit.value, 'f', -1, 64))
		}
	}
	for _, limit := range []struct {
		value int
		words string
	}{{inside.MaxLen, "at most %d characters"}, {f.MinItems, "at least %d entries"},
		{f.MaxItems, "at most %d entries"}} {
		if limit.value > 0 {
			words = append(words, fmt.Sprintf(limit.words, limit.value))
		}
	}
	return words
}

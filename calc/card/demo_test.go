package card

import (
	"encoding/json"
	"os"
	"testing"
)

// fullCard is a full card of an invented car: every field, the book's table
// and two curves of sixteen points, in figures that do not repeat.
func fullCard(t testing.TB) Card { return readCard(t, "full-six") }

func readCard(t testing.TB, name string) Card {
	t.Helper()
	text, err := os.ReadFile("../../testdata/links/v1/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var c Card
	if err := json.Unmarshal(text, &c); err != nil {
		t.Fatal(err)
	}
	return c
}

func mustLink(t testing.TB, c Card) string {
	t.Helper()
	out, err := Link(LinkIn{c})
	if err != nil {
		t.Fatal(err)
	}
	return out.Fragment
}

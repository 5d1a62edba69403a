package schema

import (
	"encoding/json"
	"testing"
)

func TestWholeFillsListsInACopy(t *testing.T) {
	type Inner struct {
		Lines []string `json:"lines"`
		Given []string `json:"given,omitempty"`
	}
	type answer struct {
		Inner
		Other  Inner           `json:"other"`
		Many   []Inner         `json:"many"`
		One    *Inner          `json:"one"`
		None   *Inner          `json:"none"`
		Bytes  json.RawMessage `json:"bytes"`
		hidden []string
	}
	shared := []Inner{{Lines: []string{"a"}}, {}}
	in := answer{Many: shared, One: &Inner{}}
	text, err := json.Marshal(Whole(in))
	const want = `{"lines":[],"other":{"lines":[]},"many":[{"lines":["a"]},{"lines":[]}],"one":{"lines":[]},"none":null,"bytes":null}`
	if err != nil || string(text) != want {
		t.Errorf("%s %v", text, err)
	}
	if shared[1].Lines != nil || in.One.Lines != nil || in.hidden != nil {
		t.Error("the answer given was changed")
	}
}

package schema

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"pointsmith/calc/refuse"
)

type inner struct {
	RPM  float64 `json:"rpm" need:"yes" over:"0" max:"100" unit:"engine rpm"`
	Side string  `json:"side,omitempty" enum:"before|after"`
}

type outer struct {
	Name  string             `json:"name" maxLen:"5"`
	N     *int               `json:"n,omitempty" min:"1"`
	On    bool               `json:"on,omitempty"`
	List  []inner            `json:"list" minItems:"1" maxItems:"2"`
	Lists map[string]float64 `json:"lists,omitempty" max:"9"`
}

func TestRefusalsNameTheFieldTheLimitAndWhatToDo(t *testing.T) {
	for in, want := range map[string]string{
		`{"list":[{"rpm":0}]}`:                     "list[0].rpm: 0 is too small; limit: more than 0 and at most 100 engine rpm",
		`{"list":[{"rpm":101}]}`:                   "list[0].rpm: 101 is too large",
		`{"list":[{"rpm":"7"}]}`:                   `list[0].rpm: is the text "7"; limit: a number in engine rpm`,
		`{"list":[{"rpm":1,"sied":"before"}]}`:     "list[0].sied: is not a known field; limit: known fields: rpm, side",
		`{"list":[{"rpm":1,"side":"up"}]}`:         `list[0].side: "up" is not known; limit: before or after`,
		`{"list":[{}]}`:                            "list[0].rpm: is missing; limit: required in engine rpm",
		`{"list":[]}`:                              "list: has 0 entries; limit: at least 1",
		`{"list":[{"rpm":1},{"rpm":1},{"rpm":1}]}`: "list: has 3 entries; limit: at most 2",
		`{"list":[null]}`:                          "list[0]: is null",
		`{"list":[{"rpm":1}],"NAME":"x"}`:          "NAME: is not a known field",
		`{"list":[{"rpm":1}],"name":"123456"}`:     "name: has 6 characters; limit: at most 5 characters",
		`{"list":[{"rpm":1}],"n":1.5}`:             "n: 1.5 is not a whole number",
		`{"list":[{"rpm":1}],"on":"yes"}`:          `on: is the text "yes"`,
		`{"list":[{"rpm":1}],"lists":{"a":10}}`:    "lists.a: 10 is too large",
		`{"list":[{"rpm":1e999}]}`:                 "list[0].rpm: the number 1e999 is too large to work with",
		`{"list":{"0":1}}`:                         "list: is an object; limit: a list in [ ]",
		`[1]`:                                      "is a list; limit: an object in { }",
		`null`:                                     "is missing",
		`{"list":[{"rpm":1}],"` + strings.Repeat("x", 500) + `":1}`: strings.Repeat("x", 40) +
			"…: is not a known field",
	} {
		_, err := Decode[outer]([]byte(in))
		var bad *refuse.Error
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), want) || errors.Is(err, ErrBroken) {
			t.Errorf("%.80s\n got %v\nwant %s", in, err, want)
		} else if bad.Limit == "" || bad.Do == "" {
			t.Errorf("%.80s is refused without limit or next step: %v", in, err)
		}
	}
}

func TestWhatIsNotJSONIsBroken(t *testing.T) {
	for _, in := range []string{"", " ", `{"list":[{"rpm":NaN}]}`, `{"list":`, `{} {}`,
		"{\"name\":\"\xff\"}", `{'a':1}`} {
		if _, err := Decode[outer]([]byte(in)); !errors.Is(err, ErrBroken) {
			t.Errorf("%q: %v, want ErrBroken", in, err)
		}
	}
}

func TestNullIsUnknownAndPointersStayNil(t *testing.T) {
	out, err := Decode[outer]([]byte(`{"list":[{"rpm":1.5}],"n":null}`))
	if err != nil || out.N != nil || out.List[0].RPM != 1.5 {
		t.Errorf("%+v, %v", out, err)
	}
}

func TestJSONSchemaCarriesLimits(t *testing.T) {
	text, err := json.Marshal(Of[outer]().JSONSchema())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"exclusiveMinimum":0`, `"maximum":100`, `"enum":["before","after"]`,
		`"additionalProperties":false`, `"required":["rpm"]`, `"minItems":1`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s is not in %s", want, text)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(`{"list":[{"rpm":1}]}`))
	f.Add([]byte(`{"list":[{"rpm":1e400}]}`))
	f.Fuzz(func(t *testing.T, in []byte) {
		out, err := Decode[outer](in)
		if err == nil && len(out.List) > 0 && (out.List[0].RPM <= 0 || out.List[0].RPM > 100) {
			t.Errorf("%q passed as %+v", in, out)
		}
	})
}

type many []inner

func (many) MayBeOne() {}

func (m *many) UnmarshalJSON(in []byte) error {
	if in[0] == '{' {
		*m = make(many, 1)
		return json.Unmarshal(in, &(*m)[0])
	}
	return json.Unmarshal(in, (*[]inner)(m))
}

func TestAListThatMayBeOne(t *testing.T) {
	type holder struct {
		Sets many `json:"sets" maxItems:"2"`
	}
	for in, want := range map[string]string{
		`{"sets":{"rpm":1}}`:             "",
		`{"sets":[{"rpm":1},{"rpm":2}]}`: "",
		`{"sets":{"rpm":0}}`:             "sets.rpm: 0 is too small",
		`{"sets":[{"rpm":0}]}`:           "sets[0].rpm: 0 is too small",
		`{"sets":{"rpm":1,"speed":2}}`:   "sets.speed: is not a known field",
		`{"sets":"all"}`:                 `sets: is the text "all"`,
	} {
		out, err := Decode[holder]([]byte(in))
		if want == "" && (err != nil || len(out.Sets) == 0 || out.Sets[0].RPM != 1) {
			t.Errorf("%s: %+v, %v", in, out, err)
		}
		if want != "" && (err == nil || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %s", in, err, want)
		}
	}
}

package faults

import (
	_ "embed" // the knowledge itself
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/causes.json
var causesText []byte

//go:embed data/symptoms.json
var symptomsText []byte

//go:embed data/tests-1.json
var firstTestsText []byte

//go:embed data/tests-2.json
var moreTestsText []byte

//go:embed data/linked.json
var linkedText []byte

//go:embed data/evidence.json
var evidenceText []byte

// cause is one thing that may be wrong.
type cause struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Family string `json:"family"`
	Needs  string `json:"needs"`
	About  string `json:"about"`
	Mend   string `json:"mend"`
	Basis  string `json:"basis"`
}

// symptom is one thing a car does, with the share of each cause in it.
type symptom struct {
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	When    []string `json:"when"`
	Often   float64  `json:"often"`
	Engine  string   `json:"engine"`
	Weights string   `json:"weights"`

	shares []float64 // by cause, the last one what is on no list; they add up to one
}

// test is one thing to look at, or one thing that is only known from the file
// (then without minutes).
type test struct {
	ID       string    `json:"id"`
	Name     string    `json:"name"`
	Minutes  float64   `json:"minutes"`
	Engine   string    `json:"engine"`
	Ignition bool      `json:"ignition"`
	Cure     bool      `json:"cure"`
	Needs    string    `json:"needs"`
	How      string    `json:"how"`
	Cautions []string  `json:"cautions"`
	Expected []wording `json:"expected"`
	Outcomes []outcome `json:"outcomes"`
	Figure   *figure   `json:"figure"`
	Basis    string    `json:"basis"`
}

// wording is what to expect where a condition holds, with the car's figures in
// braces.
type wording struct {
	When string `json:"when"`
	Say  string `json:"say"`
}

// outcome is one way a test comes out; the first of a test is what a sound car
// gives.
type outcome struct {
	ID         string  `json:"id"`
	Says       string  `json:"says"`
	Falsely    float64 `json:"falsely"`
	Proving    string  `json:"proving"`
	Decisive   string  `json:"decisive"`
	Supporting string  `json:"supporting"`
	Unreliable string  `json:"unreliable"`
	Seldom     string  `json:"seldom"`
}

// lists gives the causes of an outcome by how often they give it.
func (o outcome) lists() map[float64]string {
	return map[float64]string{proving: o.Proving, decisive: o.Decisive, supporting: o.Supporting,
		unreliable: o.Unreliable, seldom: o.Seldom}
}

// figure is what a test reads, and how it becomes an outcome.
type figure struct {
	Unit    string `json:"unit"`
	Kind    string `json:"kind"`
	Limit   string `json:"limit"`
	Low     string `json:"low"`
	High    string `json:"high"`
	Below   string `json:"below"`
	Outcome string `json:"outcome"`
}

// link is two causes that are met together oftener than by chance.
type link struct {
	Causes []string `json:"causes"`
	Times  float64  `json:"times"`
	Why    string   `json:"why"`
}

// knowledge is all of it, with the network made from it.
type knowledge struct {
	causes   []cause
	symptoms []symptom
	tests    []test // those to be asked first, then those only from the file
	causeAt  map[string]int
	symAt    map[string]int
	testAt   map[string]int
	links    []link
	told     told
	net      *network
}

// known reads the knowledge once; it is never changed afterwards.
var known = sync.OnceValue(func() *knowledge {
	k := &knowledge{causeAt: map[string]int{}, symAt: map[string]int{}, testAt: map[string]int{}}
	read(causesText, "causes", &k.causes)
	read(symptomsText, "symptoms", &k.symptoms)
	for _, text := range [][]byte{firstTestsText, moreTestsText, evidenceText} {
		var some []test
		read(text, "tests", &some)
		k.tests = append(k.tests, some...)
	}
	for i, c := range k.causes {
		k.causeAt[c.ID] = i
	}
	for i, t := range k.tests {
		k.testAt[t.ID] = i
	}
	for i := range k.symptoms {
		k.symAt[k.symptoms[i].ID] = i
		k.symptoms[i].shares = k.shares(k.symptoms[i].Weights)
	}
	read(linkedText, "linked", &k.links)
	k.told = k.stories()
	for _, l := range k.links {
		a, b := k.causeAt[l.Causes[0]], k.causeAt[l.Causes[1]]
		k.told.linked[[2]int{min(a, b), max(a, b)}] = l.Times
	}
	k.net = k.network()
	return k
})

// read takes one list out of a file of the knowledge. The files are part of
// the program; one that cannot be read is a mistake of ours.
func read[T any](text []byte, key string, into *[]T) {
	var file map[string]json.RawMessage
	err := json.Unmarshal(text, &file)
	if err == nil {
		err = json.Unmarshal(file[key], into)
	}
	if err != nil {
		panic("faults: " + key + ": " + err.Error())
	}
}

// shares reads weights such as "IG14 22, other 2" and makes them add up to one.
func (k *knowledge) shares(weights string) []float64 {
	out := make([]float64, len(k.causes)+1)
	sum := 0.0
	for part := range strings.SplitSeq(weights, ",") {
		id, number, _ := strings.Cut(strings.TrimSpace(part), " ")
		w, err := strconv.ParseFloat(number, 64)
		at, is := k.causeAt[id]
		if id == "other" {
			at, is = len(k.causes), true
		}
		if err != nil || !is || w <= 0 || out[at] != 0 {
			panic(fmt.Sprintf("faults: weight %q cannot be read", part))
		}
		out[at] = w
		sum += w
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// plain gives an id as it is kept: upper case, numbers without or with a
// leading nought as the list has them ("t01" is T1, "s5" is S05).
func plain[V any](id string, list map[string]V) (string, bool) {
	for _, try := range []string{id, strings.ToUpper(strings.TrimSpace(id))} {
		if _, is := list[try]; is {
			return try, true
		}
		letters := strings.TrimRight(try, "0123456789")
		number := strings.TrimLeft(try[len(letters):], "0")
		for _, nought := range []string{"", "0"} {
			if _, is := list[letters+nought+number]; is && number != "" {
				return letters + nought + number, true
			}
		}
	}
	return id, false
}

package finding

import (
	"fmt"
	"slices"
	"strings"
)

// Finding is one thing concluded.
type Finding struct {
	Code        string   `json:"code" help:"name of the conclusion"`
	Title       string   `json:"title" help:"the conclusion in a few words"`
	Text        string   `json:"text" help:"the conclusion in plain words, with what to do"`
	Verdict     string   `json:"verdict,omitempty" enum:"pass|watch|fail|unknown" help:"what it makes of the whole; empty where it only informs"`
	Part        string   `json:"part,omitempty" help:"the part to touch"`
	Direction   string   `json:"direction,omitempty" help:"which way it is off"`
	Sureness    string   `json:"sureness" enum:"sure|likely|possible" help:"how sure of the conclusion, not of which part has caused it: sure, the figures alone show it; likely, it fits best and something else could fit; possible, the figures allow it and do not show it"`
	Share       *float64 `json:"share,omitempty" min:"0" max:"1" help:"how much of all belief is on it, where accounts were weighed; left out elsewhere"`
	DisprovedBy string   `json:"disprovedBy,omitempty" help:"the measurement that would prove this wrong"`
	Caution     string   `json:"caution,omitempty" help:"read this before touching anything"`
	Working     []string `json:"working" help:"the rule with this car's figures in it"`
	Sources     []string `json:"sources" help:"where the rule comes from"`
}

// List is the findings of one case, weightiest first.
type List []Finding

// Add puts a finding at the end. One without a source is common practice.
func (l *List) Add(f Finding) {
	if f.Working == nil {
		f.Working = []string{}
	}
	if len(f.Sources) == 0 {
		f.Sources = []string{"common practice"}
	}
	*l = append(*l, f)
}

// Sort puts the weightiest first and keeps the order of those that weigh alike.
func (l List) Sort() {
	slices.SortStableFunc(l, func(a, b Finding) int { return weight[b.Verdict] - weight[a.Verdict] })
}

// Has tells whether a finding of this code is in the list.
func (l List) Has(code string) bool {
	for _, f := range l {
		if f.Code == code {
			return true
		}
	}
	return false
}

// Verdicts in rising weight; Worse compares them.
const (
	Pass    = "pass"
	Unknown = "unknown"
	Watch   = "watch"
	Fail    = "fail"
)

var weight = map[string]int{Pass: 1, Unknown: 2, Watch: 3, Fail: 4}

// Worse is the heavier of two verdicts: fail before watch before unknown
// before pass. An empty one weighs nothing.
func Worse(a, b string) string {
	if weight[b] > weight[a] {
		return b
	}
	return a
}

// Count says how many in words that agree: "1 check is", "2 checks are".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Degrees says an angle to three digits: "1 crank degree", "2.5 crank degrees".
func Degrees(x float64, of string) string {
	text := fmt.Sprintf("%.3g %s degree", x, of)
	if strings.HasPrefix(text, "1 ") {
		return text
	}
	return text + "s"
}

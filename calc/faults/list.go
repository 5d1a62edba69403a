package faults

// ListIn asks for what can be told, tested and wrong.
type ListIn struct {
	Car Car `json:"car,omitempty" help:"what is known of the car: what it cannot have is left out, and what to expect has its figures"`
}

// SymptomRow is one thing that can be told.
type SymptomRow struct {
	ID   string   `json:"id" help:"the symptom"`
	Name string   `json:"name" help:"the symptom in words"`
	When []string `json:"when" enum:"any|idle|load|high|light|opening|overrun|hot|cold|damp|start|stopping|seen" help:"in which state it is met; seen: found in looking, not in driving"`
	Dead bool     `json:"dead,omitempty" help:"the engine does not run then"`
}

// CauseRow is one thing that may be wrong.
type CauseRow struct {
	ID     string `json:"id" help:"the cause"`
	Name   string `json:"name" help:"the cause in words"`
	Family string `json:"family" enum:"ignition|fuel|engine" help:"where it belongs"`
	About  string `json:"about" help:"what it does"`
	Mend   string `json:"mend" help:"what to do about it"`
	Basis  string `json:"basis" help:"where the knowledge comes from"`
}

// TestRow is one test.
type TestRow struct {
	ID         string      `json:"id" help:"the test"`
	Name       string      `json:"name" help:"the test in words"`
	Minutes    float64     `json:"minutes" unit:"minutes" help:"how long it takes"`
	Engine     string      `json:"engine" enum:"off|cranking|running|road" help:"what the engine has to do"`
	NeedsPower bool        `json:"needsPower,omitempty" help:"the ignition has to be on"`
	How        string      `json:"how" help:"how it is done"`
	Expected   string      `json:"expected" help:"what a sound car of this kind gives"`
	Cautions   []string    `json:"cautions" help:"ids of the cautions that stand before it"`
	Unit       string      `json:"unit,omitempty" help:"unit of the figure, where one is read"`
	Outcomes   []OutcomeOf `json:"outcomes" help:"how it may come out, the expected first"`
	Basis      string      `json:"basis" help:"where the knowledge comes from"`
}

// OutcomeOf is one way a test may come out.
type OutcomeOf struct {
	ID     string `json:"id" help:"the outcome, for seen"`
	Says   string `json:"says" help:"what is seen then"`
	Result string `json:"result" enum:"expected|not" help:"what it is in an observation"`
}

// ListOut is the whole list.
type ListOut struct {
	Symptoms []SymptomRow `json:"symptoms" help:"what can be told"`
	Causes   []CauseRow   `json:"causes" help:"what may be wrong, and what may have been changed last"`
	Tests    []TestRow    `json:"tests" help:"what can be tested"`
	Sources  []string     `json:"sources" help:"where the knowledge comes from"`
}

// List gives symptoms, causes and tests of the hunt with their words, as
// data/*.json has them; what this car cannot have is left out. Refused: volts
// that no system has, limits the wrong way round. Source: common practice and
// judgement; each row names its own.
func List(in ListIn) (ListOut, error) {
	if bad := (In{Car: in.Car}).check(); bad != nil {
		return ListOut{}, bad
	}
	k, g := known(), figuresOf(in.Car, Facts{})
	out := ListOut{Sources: []string{"causes, symptoms, tests: common practice; what they tell of one another: judgement"}}
	for _, s := range k.symptoms {
		out.Symptoms = append(out.Symptoms, SymptomRow{ID: s.ID, Name: s.Name, When: s.When, Dead: s.Engine == "dead"})
	}
	for _, c := range k.causes {
		if !in.Car.lacks(c.Needs) {
			out.Causes = append(out.Causes, CauseRow{ID: c.ID, Name: c.Name, Family: c.Family, About: c.About,
				Mend:  c.Mend,
				Basis: c.Basis})
		}
	}
	for _, t := range k.tests {
		if t.Minutes > 0 && !in.Car.lacks(t.Needs) {
			out.Tests = append(out.Tests, t.row(in.Car, g))
		}
	}
	return out, nil
}

func (t test) row(c Car, g figures) TestRow {
	r := TestRow{ID: t.ID, Name: t.Name, Minutes: t.Minutes, Engine: t.Engine, NeedsPower: t.Ignition, How: t.How,
		Expected: t.expected(c, g), Cautions: t.Cautions, Unit: t.unit(), Basis: t.Basis}
	for o, one := range t.Outcomes {
		r.Outcomes = append(r.Outcomes, OutcomeOf{ID: one.ID, Says: one.Says, Result: resultOf(o)})
	}
	return r
}

func (t test) unit() string {
	if t.Figure == nil {
		return ""
	}
	return t.Figure.Unit
}

// resultOf: the first outcome of a test is the expected one.
func resultOf(outcome int) string {
	if outcome == 0 {
		return "expected"
	}
	return "not"
}

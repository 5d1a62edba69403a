package calc

import (
	"encoding/json"
	"errors"
	"strings"
	"sync"
	"testing"

	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
)

func TestEveryExampleRunsAndEveryFieldIsExplained(t *testing.T) {
	for _, m := range Describe() {
		out, err := Call(m.Name, m.Example)
		if err != nil || !json.Valid(out) {
			t.Errorf("%s: example gives %v", m.Name, err)
		}
		explained(t, m.Name, m.In)
		explained(t, m.Name, m.Out)
	}
}

// TestCallsAtATimeShareNothing is for the race detector: a server calls many
// calculations at once.
func TestCallsAtATimeShareNothing(t *testing.T) {
	want := map[string]string{}
	for _, m := range Describe() {
		out, err := Call(m.Name, m.Example)
		if err != nil {
			t.Fatalf("%s: %v", m.Name, err)
		}
		want[m.Name] = string(out)
	}
	var calls sync.WaitGroup
	for range 2 {
		for _, m := range Describe() {
			calls.Go(func() {
				if out, err := Call(m.Name, m.Example); err != nil || string(out) != want[m.Name] {
					t.Errorf("%s: another answer beside others: %v", m.Name, err)
				}
			})
		}
	}
	calls.Wait()
}

func explained(t *testing.T, path string, o schema.Object) {
	for _, f := range o.Fields {
		if f.Help == "" {
			t.Errorf("%s.%s says nothing about itself", path, f.Name)
		}
		for _, inner := range []*schema.Field{&f, f.Items} {
			if inner != nil && inner.Object != nil {
				explained(t, path+"."+f.Name, *inner.Object)
			}
		}
	}
}

// A list in an answer is [] and never null, whatever the input: pages count
// on it. The second input of advance.judge leaves it nothing to compare.
func TestNoListInAnAnswerIsNull(t *testing.T) {
	type asked struct {
		method Method
		in     string
	}
	var all []asked
	for _, m := range Describe() {
		all = append(all, asked{m, string(m.Example)})
		if m.Name == "advance.judge" {
			all = append(all, asked{m, `{"spec": ` + demoSpec + `, "readings": {"place": "car", "angleUnit": "crank", "speedUnit": "engine", "base": "included", "vacuum": "connected", "points": [{"rpm": 1500, "deg": 30}]}}`})
		}
	}
	for _, a := range all {
		out, err := Call(a.method.Name, []byte(a.in))
		var answer any
		if err != nil || json.Unmarshal(out, &answer) != nil {
			t.Fatalf("%s: %v", a.method.Name, err)
		}
		noNull(t, a.method.Name, &schema.Field{Kind: "object", Object: &a.method.Out}, answer)
	}
}

func noNull(t *testing.T, path string, f *schema.Field, value any) {
	switch v := value.(type) {
	case nil:
		if f.Kind == "list" {
			t.Errorf("%s is null", path)
		}
	case []any:
		for _, one := range v {
			if f.Items != nil {
				noNull(t, path+"[]", f.Items, one)
			}
		}
	case map[string]any:
		if f.Object == nil {
			return
		}
		for _, inner := range f.Object.Fields {
			if one, given := v[inner.Name]; given {
				noNull(t, path+"."+inner.Name, &inner, one)
			}
		}
	}
}

func TestRefusalsBecomeProblems(t *testing.T) {
	for _, c := range []struct {
		method, in string
		status     int
		field      string
	}{
		{"advance.expect", `{"spec": ` + demoSpec + `, "engineRPM": [0]}`, 422, "engineRPM[0]"},
		{"advance.expect", `{"spec": ` + demoSpec + `, "engineRPM": [NaN]}`, 400, ""},
		{"advance.expect", `{"spec": ` + strings.Replace(demoSpec, `"rpm": 450`, `"rpm": 300`, 1) +
			`, "engineRPM": [800]}`, 422, "spec.points[1].rpm"},
		{"advance.expect", `{"spec": ` + strings.Replace(demoSpec, `"minDeg": 7`, `"minDeg": 9.5`, 1) +
			`, "engineRPM": [800]}`, 422, "spec.points[3].minDeg"},
		{"advance.expect", `{"spec": ` + strings.Replace(demoSpec, `"rpm": 2500, "minDeg": 12, "maxDeg": 14`,
			`"rpm": 2500, "minDeg": 2, "maxDeg": 4`, 1) + `, "engineRPM": [800]}`, 422, "spec.points[6].maxDeg"},
		{"advance.expect", `{"spec": ` + strings.Replace(demoSpec, `"baseCrankDeg": 8,`, ``, 1) +
			`, "engineRPM": [800]}`, 422, "spec.baseCrankDeg"},
		{"advance.judge", `{"spec": ` + demoSpec + `, "readings": []}`, 422, "readings"},
		{"advance.judge", `{"spec": ` + demoSpec + `, "readings": {"place": "bench"}}`, 422, "readings.angleUnit"},
		{"advance.expct", `{}`, 404, "method"},
		{"advance.expect", `{"spec": `, 400, ""},
	} {
		_, err := Call(c.method, []byte(c.in))
		p := AsProblem(err)
		if err == nil || p.Status != c.status || p.Field != c.field || p.Do == "" || p.Limit == "" {
			t.Errorf("%s %.60s: %v; problem %+v", c.method, c.in, err, p)
		}
	}
	var bad *refuse.Error
	if _, err := Call("nothing", nil); !errors.Is(err, ErrNoMethod) || !errors.As(err, &bad) {
		t.Errorf("unknown method: %v", err)
	}
}

func TestListedHighToLowIsTheSameTable(t *testing.T) {
	up := `{"angleUnit":"crank","speedUnit":"engine","base":"included","points":[{"rpm":1000,"minDeg":8,"maxDeg":12},{"rpm":2000,"minDeg":20,"maxDeg":24}]}`
	down := `{"angleUnit":"crank","speedUnit":"engine","base":"included","points":[{"rpm":2000,"minDeg":20,"maxDeg":24},{"rpm":1000,"minDeg":8,"maxDeg":12}]}`
	a, errA := Call("advance.expect", []byte(`{"spec":`+up+`,"engineRPM":[1500]}`))
	b, errB := Call("advance.expect", []byte(`{"spec":`+down+`,"engineRPM":[1500]}`))
	if errA != nil || errB != nil || string(a) != string(b) {
		t.Errorf("%s (%v)\n%s (%v)", a, errA, b, errB)
	}
}

// A refused line of the table says whose rpm are meant: both shafts have some.
func TestRefusedSpeedsNameTheirShaft(t *testing.T) {
	for _, unit := range []string{"engine", "distributor"} {
		head := `{"angleUnit": "crank", "speedUnit": "` + unit +
			`", "base": "excluded", "points": [{"rpm": 1000, "minDeg": 8, "maxDeg": 12}, {"rpm": `
		for _, rest := range []string{`1000, "minDeg": 20, "maxDeg": 24}]}`, `2000, "minDeg": 2, "maxDeg": 4}]}`,
			`2000, "minDeg": 20, "maxDeg": 24}], "noAdvanceBelowRPM": 1100}`} {
			_, err := Call("advance.expect", []byte(`{"spec": `+head+rest+`, "engineRPM": [1500]}`))
			if err == nil || !strings.Contains(err.Error(), "00 "+unit+" rpm") {
				t.Errorf("%s: %v", unit, err)
			}
		}
	}
}

func FuzzCall(f *testing.F) {
	for _, m := range Describe() {
		f.Add(m.Name, []byte(m.Example))
	}
	f.Add("advance.judge", []byte(`{"spec":{"angleUnit":"crank","speedUnit":"engine","base":"included","points":[{"rpm":1,"minDeg":0,"maxDeg":0}]},"readings":{"place":"car","angleUnit":"crank","speedUnit":"engine","base":"excluded","points":[{"rpm":1,"deg":0}]}}`))
	f.Fuzz(func(t *testing.T, name string, in []byte) {
		out, err := Call(name, in)
		if err == nil && !json.Valid(out) {
			t.Errorf("%s gave %q", name, out)
		}
		if err != nil && AsProblem(err).Status == 500 {
			t.Errorf("%s blames itself for %q: %v", name, in, err)
		}
	})
}

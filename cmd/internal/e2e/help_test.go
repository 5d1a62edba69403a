//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"testing"

	"pointsmith/calc"
)

// What the help tells to pass on is what the calculations say, in either English.
func TestHelpExplainsWithTheFiguresOfTheCalculations(t *testing.T) {
	p := shared(t).visitor(t, newSite(t).origin())
	p.firstRun()
	p.open("#/help/how")
	p.sees(
		fmt.Sprintf("60° of dwell close the points for %.1f ms at 5000 rpm",
			calculated(t, "points.dwell", `{"cylinders":4,"dwellDistDeg":60,"engineRPM":5000}`, "chargeMs")),
		fmt.Sprintf("eight with 30° for %.1f ms at 3000",
			calculated(t, "points.dwell", `{"cylinders":8,"dwellDistDeg":30,"engineRPM":3000}`, "chargeMs")),
		fmt.Sprintf("%g to %g crank degrees at 750 rpm and %g to %g at 3000",
			calculated(t, "time.crank", `{"engineRPM":750,"ms":2}`, "crankDeg"),
			calculated(t, "time.crank", `{"engineRPM":750,"ms":3}`, "crankDeg"),
			calculated(t, "time.crank", `{"engineRPM":3000,"ms":2}`, "crankDeg"),
			calculated(t, "time.crank", `{"engineRPM":3000,"ms":3}`, "crankDeg")))
	if shift := calculated(t, "points.shift", `{"dwellFromDistDeg":60,"dwellToDistDeg":63}`,
		"timingShiftCrankDeg"); shift != -3 {
		t.Errorf("three degrees of dwell move timing by %g, the help says 3 later", shift)
	}
	if first := eval[string](p,
		`document.querySelector(".help h2").innerText`); first != "How it works" {
		t.Errorf("first stands %q", first)
	}
	p.open("#/settings")
	p.tap("radio", "American")
	p.open("#/help/how")
	p.sees("little at idle, most with the throttle wide open", "the vacuum can adds advance", "bad carburetor")
	p.seesNot("carburettor")
}

// calculated gives one figure of a calculation's answer.
func calculated(t *testing.T, method, in, name string) (figure float64) {
	t.Helper()
	out, err := calc.Call(method, []byte(in))
	if err != nil {
		t.Fatal(err)
	}
	var answer map[string]json.RawMessage
	if err := json.Unmarshal(out, &answer); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(answer[name], &figure); err != nil {
		t.Fatalf("%s says no %s: %v", method, name, err)
	}
	return figure
}

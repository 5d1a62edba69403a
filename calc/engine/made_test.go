package engine

import (
	"errors"
	"math"
	"os"
	"runtime"
	"testing"

	"pointsmith/calc/refuse"
)

func num(x float64) *float64 { return &x }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.6g, want %.6g ± %g", what, got, want, within)
	}
}

// made is an engine of usual size for its chamber.
func made(chamber string, bore, stroke, ratio float64) Engine {
	return Engine{BoreMm: &bore, StrokeMm: &stroke, CompressionRatio: ratio, Chamber: chamber}
}

// The three demo engines, invented: Hartsmere Linnet, Brindlecote Stour, Kestlewood
// Ridgeway (raised compression).
var (
	linnet   = made("bathtub", 73, 75, 8.3)
	stour    = made("wedge", 83, 80, 8.8)
	ridgeway = made("wedge", 99, 84, 9.6)
)

func init() { ridgeway.Cam = "mild" }

func ron(octane float64) Fuel { return Fuel{Octane: octane, Scale: "RON"} }

func full() Load { return Load{Load: num(1)} }

func bodyOf(t testing.TB, e Engine) body {
	t.Helper()
	b, bad := e.body()
	if bad != nil {
		t.Fatal(bad)
	}
	return b
}

func best(t testing.TB, in BestIn) BestOut {
	t.Helper()
	out, err := Best(in)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// middleAt is the middle engine at one condition.
func middleAt(t testing.TB, e Engine, f Fuel, a Air, rpm, load float64) profile {
	t.Helper()
	return bodyOf(t, e).profile(conditionOf(rpm, load, f, a), middle)
}

func refusal(err error) *refuse.Error {
	var bad *refuse.Error
	errors.As(err, &bad)
	return bad
}

// count is how many cases are drawn: few in an ordinary run, all with ENGINE_FULL=1,
// half of the few under WebAssembly, which takes twice as long.
func count(few, all int) int {
	switch {
	case os.Getenv("ENGINE_FULL") == "1":
		return all
	case runtime.GOARCH == "wasm":
		return (few + 1) / 2
	}
	return few
}

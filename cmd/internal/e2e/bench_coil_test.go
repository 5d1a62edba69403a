//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"pointsmith/calc"
)

// sweptCoil is a usual plain 12 V coil on a four (common practice), asked at 40
// speeds from 500 to 6350 engine rpm.
func sweptCoil() (in string, speeds []float64) {
	list := make([]string, 40)
	for i := range list {
		speeds = append(speeds, float64(500+150*i))
		list[i] = fmt.Sprint(speeds[i])
	}
	return `{"supplyV": 13.8, "cylinders": 4, "points": {"dwellDistDeg": 60}, "engineRPM": [` +
		strings.Join(list, ", ") + `],
		"coil": {"primaryOhm": 3, "ballastOhm": 0, "leadOhm": 0.1, "inductanceMilliH": 8, "turnsRatio": 65, "condenserMicroF": 0.2, "secondaryPicoF": 50}}`, speeds
}

// sweptDeck is the same circuit for ngspice: all speeds in one start of the
// program, the secondary behind an ideal transformer, steps of at most 2 µs.
func sweptDeck(speeds []float64) string {
	var runs strings.Builder
	for _, rpm := range speeds {
		closed := 60 / (3 * rpm) // seconds: dwell over three times the speed
		fmt.Fprintf(&runs, "alter @vctl[pulse] = [ 1 0 %.9g 1n 1n 10 20 ]\ntran 2u %.9g 0 2u uic\nmeas tran kv MAX V(s) FROM=%.9g TO=%.9g\n",
			closed, closed+300e-6, closed, closed+300e-6)
	}
	return "coil\nV1 a 0 DC 13.8\nR1 a b 3.1\nL1 b p 8m IC=0\nC1 p 0 0.2u\nS1 p 0 ctl 0 points\n.model points SW(VT=0.5 VH=0 RON=1e-5 ROFF=1e10)\n" +
		"Vctl ctl 0 PULSE(1 0 1 1n 1n 10 20)\nE1 e 0 p 0 65\nVm e s DC 0\nF1 p 0 Vm 65\nC2 s 0 50p\n.options reltol=1e-5 method=trap\n.control\n" + runs.String() + "quit\n.endc\n.end\n"
}

var sweptKV = regexp.MustCompile(`(?m)^kv\s*=\s*([-+0-9.eE]+)`)

// BenchmarkTheSweepAgainstNgspice runs coil.sweep at 40 speeds in the browser's
// worker, natively, and the same 40 charges and breaks in ngspice, turn by turn
// in one run: "ratio" is the browser over native, "ngspice-ratio" ngspice over
// the browser. The sweep does more: the need of the plug, a leaking plug and the
// start with each. Their kilovolts have to agree within 0.5 %.
func BenchmarkTheSweepAgainstNgspice(b *testing.B) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		b.Fatal("ngspice is not installed: apt-get install ngspice")
	}
	p, car := demo(b)
	p.open(car)
	until(b, "the engine is ready", func() bool {
		return eval[string](p, `import("/js/engine/client.js").then((client) => client.engineState())`) == "ready"
	})
	in, speeds := sweptCoil()
	deck := filepath.Join(b.TempDir(), "coil.cir")
	if err := os.WriteFile(deck, []byte(sweptDeck(speeds)), 0o600); err != nil {
		b.Fatal(err)
	}
	there := inTheBrowser(b, p, "coil.sweep", in)
	var theirs time.Duration
	for range b.N {
		began := time.Now()
		out, err := exec.Command(program, "-b", deck).CombinedOutput()
		theirs += time.Since(began)
		if err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
		sweepAgrees(b, in, sweptKV.FindAllStringSubmatch(string(out), -1))
	}
	b.ReportMetric(float64(theirs.Nanoseconds())/float64(b.N), "ngspice-ns/op")
	b.ReportMetric(float64(theirs)/float64(there), "ngspice-ratio")
}

func sweepAgrees(b *testing.B, in string, theirs [][]string) {
	b.Helper()
	var ours struct {
		Rows []struct{ EngineRPM, AvailableKV float64 }
	}
	out, err := calc.Call("coil.sweep", []byte(in))
	if err != nil || json.Unmarshal(out, &ours) != nil || len(ours.Rows) != len(theirs) {
		b.Fatalf("%d speeds here, %d in ngspice (%v)", len(ours.Rows), len(theirs), err)
	}
	for i, row := range ours.Rows {
		volts, err := strconv.ParseFloat(theirs[i][1], 64)
		if off := math.Abs(row.AvailableKV/(volts/1000) - 1); err != nil || off > 0.005 {
			b.Fatalf("%g rpm: %g kV here, %g V in ngspice (%v)", row.EngineRPM, row.AvailableKV, volts, err)
		}
	}
}

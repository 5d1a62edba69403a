//go:build !wasm

package cycle

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"testing"
)

// scipyCycle is the same cylinder written another way: it carries energy and
// mass instead of pressure, and volume comes from the slider-crank's own
// lengths. python3-scipy is a package of Debian, wanted for development only.
const scipyCycle = `
import json, sys
import numpy as np
from scipy.integrate import solve_ivp
out = []
for c in json.load(sys.stdin):
    r, g, Q = c["compressionRatio"], c["gamma"], c["heatRatio"]
    th0, dur, a, m = c["burnStartCrankDeg"], c["burnDurationCrankDeg"], c["wiebeA"], c["wiebeM"]
    R, cut, L = c["rodRatio"], c.get("cutOff", False), c.get("heatLoss")
    clear = 2.0 / (r - 1)                      # lengths over the crank radius
    top = R + 1 + clear
    def volume(t):
        pin = np.cos(t) + np.sqrt(R * R - np.sin(t) ** 2)
        return (top - pin) / (2 + clear)
    def volume_rate(t):
        return (np.sin(t) + np.sin(t) * np.cos(t) / np.sqrt(R * R - np.sin(t) ** 2)) / (2 + clear)
    def burn(t):
        y = (np.degrees(t) - th0) / dur
        if y <= 0 or (cut and y > 1):
            return 0.0
        return np.exp(-a * y ** (m + 1)) * a * (m + 1) * y ** m / np.radians(dur)
    omega = L["engineRPM"] * 2 * np.pi / 60 if L and "engineRPM" in L else 1.0
    def f(t, s):
        E, mass, W, lost = s
        V = volume(t)
        p = (g - 1) * E / V
        T = p * V / mass
        q = 0.0
        dm = 0.0
        if L:
            if L["law"] == "fixed":
                q = L["coefficient"] * (1 + L["areaGrowth"] * V) * (T - L["wallRatio"])
                dm = -L.get("leakPerS", 0) / omega * mass
            else:
                B, S, p1, T1 = L["boreMm"] / 1e3, L["strokeMm"] / 1e3, L["startKPa"], L["startK"]
                Vd = np.pi / 4 * B * B * S
                V1 = Vd * r / (r - 1)
                w = max(0.0, 2.28 * S * omega / np.pi + .00324 * Vd * T1 / (p1 * V1) * p1 * (p - V ** -g))
                h = 3.26 * B ** -.2 * (p * p1) ** .8 * (T * T1) ** -.55 * w ** .8
                area = np.pi / 2 * B * B + 4 * V * V1 / B
                q = h * area * T1 * (T - L["wallRatio"]) / (p1 * 1e3 * V1 * omega)
        dW = p * volume_rate(t)
        # gas that leaks takes its enthalpy with it
        return [Q * burn(t) - q - dW + g / (g - 1) * T * dm, dm, dW, q]
    s = [1 / (g - 1), 1.0, 0.0, 0.0]
    peak = 0.0
    ends = sorted(np.radians([-180, th0, min(180, th0 + dur), 180]))
    for lo, hi in zip(ends[:-1], ends[1:]):
        if hi <= lo:
            continue
        ans = solve_ivp(f, (lo, hi), s, method="LSODA", rtol=1e-8, atol=1e-10, max_step=0.05)
        V = volume(ans.t)
        peak = max(peak, float(np.max((g - 1) * ans.y[0] / V)))
        s = list(ans.y[:, -1])
    out.append({"pMaxRatio": peak, "workRatio": s[2], "heatLostRatio": s[3], "massLostRatio": 1 - s[1]})
json.dump(out, sys.stdout)
`

// TestAgainstSciPy runs cases at random through both: 200 with ENGINE_FULL=1, a
// dozen else. Work, heat and highest pressure within 0.1 %.
func TestAgainstSciPy(t *testing.T) {
	python := scipy(t)
	rng := rand.New(rand.NewPCG(13, 1))
	n := 12
	if os.Getenv("ENGINE_FULL") == "1" {
		n = 200
	}
	var cases []CycleIn
	for i := range n {
		in := randomCase(func(_ string, low, high float64) float64 { return low + (high-low)*rng.Float64() })
		in.CutOff = i%2 == 1
		cases = append(cases, in)
	}
	worst := map[string]float64{}
	for i, its := range throughSciPy(t, python, cases) {
		ours := cycle(t, cases[i])
		for name, pair := range map[string][2]float64{"pMax": {ours.PMaxRatio, its.PMaxRatio},
			"work": {ours.WorkRatio, its.WorkRatio}, "heat lost": {1 + ours.HeatLostRatio, 1 + its.HeatLostRatio},
			"mass": {1 - ours.MassLostRatio, 1 - its.MassLostRatio}} {
			off := 100 * math.Abs(pair[0]/pair[1]-1)
			worst[name] = max(worst[name], off)
			if !(off < 0.1) {
				t.Errorf("case %d, %s: ours %.6g, SciPy %.6g; %+v", i, name, pair[0], pair[1], cases[i])
			}
		}
	}
	t.Logf("%d cases; worst in %%: %v", n, worst)
}

func scipy(t testing.TB) string {
	const python = "/usr/bin/python3" // Debian's own, which has Debian's SciPy
	if err := exec.Command(python, "-c", "import scipy").Run(); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("SciPy is not installed, and CI holds every cycle against it: apt-get install python3-scipy")
		}
		t.Skip("SciPy is not installed; install the Debian package python3-scipy to hold the cycle against it")
	}
	return python
}

func throughSciPy(t testing.TB, python string, cases []CycleIn) (out []CycleOut) {
	t.Helper()
	in, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "-c", scipyCycle)
	cmd.Stdin = bytes.NewReader(in)
	cmd.Stderr = os.Stderr
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &out); err != nil || len(out) != len(cases) {
		t.Fatalf("%d answers, %v", len(out), err)
	}
	return out
}

// One cycle in SciPy, beside BenchmarkCycle in the same run; the start of the
// interpreter is shared by 50 of them.
func BenchmarkCycleInSciPy(b *testing.B) {
	python := scipy(b)
	cases := make([]CycleIn, 50)
	for i := range cases {
		cases[i] = woschni()
		cases[i].WiebeA, cases[i].WiebeM, cases[i].RodRatio = num(5), num(2), num(20)
	}
	for b.Loop() {
		throughSciPy(b, python, cases)
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(50*b.N), "µs/cycle")
}

//go:build !wasm

package cycle

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// gslCycle is the same cylinder in C with the eighth-order pair of the GNU
// Scientific Library, carrying temperature. libgsl-dev is a package of Debian,
// wanted for development only. Arguments: how many times over. Cases on stdin, one a
// line of numbers; work, heat lost and mass lost come back.
const gslCycle = `
#include <stdio.h>
#include <stdlib.h>
#include <math.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
typedef struct { double r, g, Q, start, dur, a, m, rod; int cut, law; double h, beta, wall, leak, rpm, bore, stroke, kPa, K; } car;
static double volume(const car *c, double t) {
	double x = c->rod * (1 - sqrt(1 - pow(sin(t) / c->rod, 2))) + 1 - cos(t);
	return 1 / c->r + (1 - 1 / c->r) * x / 2;
}
static double volume_rate(const car *c, double t) {
	return (1 - 1 / c->r) / 2 * (sin(t) + sin(2 * t) / (2 * sqrt(c->rod * c->rod - sin(t) * sin(t))));
}
static int f(double t, const double y[], double d[], void *p) {
	const car *c = p;
	double T = y[0], m = y[1], V = volume(c, t), dV = volume_rate(c, t), P = m * T / V;
	double u = (t * 180 / M_PI - c->start) / c->dur, burn = 0, q = 0, dm = 0;
	if (u > 0 && !(c->cut && u > 1)) burn = c->Q * exp(-c->a * pow(u, c->m + 1)) * c->a * (c->m + 1) * pow(u, c->m) / (c->dur * M_PI / 180);
	double omega = c->rpm * M_PI / 30;
	if (c->law == 1) { q = c->h * (1 + c->beta * V) * (T - c->wall); dm = -c->leak / omega * m; }
	if (c->law == 2) {
		double Vd = M_PI / 4 * c->bore * c->bore * c->stroke, V1 = Vd * c->r / (c->r - 1);
		double w = 2.28 * c->stroke * omega / M_PI + 0.00324 * Vd * c->K / V1 * (P - pow(V, -c->g));
		double h = 3.26 * pow(c->bore, -0.2) * pow(P * c->kPa, 0.8) * pow(T * c->K, -0.55) * pow(w > 0 ? w : 0, 0.8);
		q = h * (M_PI / 2 * c->bore * c->bore + 4 * V * V1 / c->bore) * c->K * (T - c->wall) / (1000 * c->kPa * V1 * omega);
	}
	/* m cv dT = burn - q - P dV + R T dm, with R = 1 and cv = 1/(g-1) */
	d[0] = (c->g - 1) * (burn - q - P * dV + T * dm) / m;
	d[1] = dm; d[2] = P * dV; d[3] = q;
	return GSL_SUCCESS;
}
int main(int argc, char **argv) {
	int times = atoi(argv[1]);
	car c;
	while (scanf("%lf%lf%lf%lf%lf%lf%lf%lf%d%d%lf%lf%lf%lf%lf%lf%lf%lf%lf", &c.r, &c.g, &c.Q, &c.start, &c.dur, &c.a, &c.m, &c.rod,
		&c.cut, &c.law, &c.h, &c.beta, &c.wall, &c.leak, &c.rpm, &c.bore, &c.stroke, &c.kPa, &c.K) == 19) {
		double y[4];
		for (int n = 0; n < times; n++) {
			gsl_odeiv2_system sys = {f, NULL, 4, &c};
			gsl_odeiv2_driver *d = gsl_odeiv2_driver_alloc_y_new(&sys, gsl_odeiv2_step_rk8pd, 1e-3, 1e-9, 1e-9);
			double end = c.start + c.dur < 180 ? c.start + c.dur : 180, at[4] = {-180, c.start, end, 180}, t = -M_PI;
			y[0] = y[1] = 1; y[2] = y[3] = 0;
			gsl_odeiv2_driver_set_hmax(d, 0.09);
			for (int k = 1; k < 4; k++) if (at[k] * M_PI / 180 > t) gsl_odeiv2_driver_apply(d, &t, at[k] * M_PI / 180, y);
			gsl_odeiv2_driver_free(d);
		}
		printf("%.12g %.12g %.12g\n", y[2], y[3], 1 - y[1]);
	}
	return 0;
}
`

// gsl builds the program, or says plainly that it cannot.
func gsl(t testing.TB) string {
	folder := t.TempDir()
	source, program := filepath.Join(folder, "cycle.c"), filepath.Join(folder, "cycle")
	if err := os.WriteFile(source, []byte(gslCycle), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("cc", "-O2", "-o", program, source, "-lgsl", "-lgslcblas", "-lm").CombinedOutput()
	if err != nil {
		t.Skipf("no C compiler with the GNU Scientific Library; install the Debian packages gcc and libgsl-dev to hold the cycle against it: %.200s", out)
	}
	return program
}

// line is a case as the program reads it.
func (in CycleIn) line() string {
	law, cut := 0, 0
	l := HeatLoss{}
	if in.CutOff {
		cut = 1
	}
	if in.HeatLoss != nil {
		l, law = *in.HeatLoss, 1
		if l.Law == "woschni" {
			law = 2
		}
	}
	return fmt.Sprintln(in.CompressionRatio, in.Gamma, in.HeatRatio, in.BurnStartCrankDeg, in.BurnDurationCrankDeg,
		*in.WiebeA, *in.WiebeM, *in.RodRatio, cut, law, or(l.Coefficient, 0), or(l.AreaGrowth, 0), l.WallRatio,
		l.LeakPerS,
		or(l.EngineRPM, 1000), or(l.BoreMm, 100)/1000, or(l.StrokeMm, 100)/1000, or(l.StartKPa, 100), or(l.StartK, 300))
}

func throughGSL(t testing.TB, program string, times int, cases []CycleIn) (out []CycleOut) {
	t.Helper()
	var in bytes.Buffer
	for _, c := range cases {
		in.WriteString(c.line())
	}
	cmd := exec.Command(program, fmt.Sprint(times))
	cmd.Stdin = &in
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	read := bytes.NewReader(text)
	for {
		var one CycleOut
		if _, err := fmt.Fscan(read, &one.WorkRatio, &one.HeatLostRatio, &one.MassLostRatio); err != nil {
			break
		}
		out = append(out, one)
	}
	if len(out) != len(cases) {
		t.Fatalf("%d answers for %d cases", len(out), len(cases))
	}
	return out
}

// TestAgainstGSL is TestAgainstSciPy with another library, always all 200 cases: it
// is quick.
func TestAgainstGSL(t *testing.T) {
	program := gsl(t)
	rng := rand.New(rand.NewPCG(13, 7))
	var cases []CycleIn
	for i := range 200 {
		in := randomCase(func(_ string, low, high float64) float64 { return low + (high-low)*rng.Float64() })
		in.CutOff = i%2 == 1
		cases = append(cases, in)
	}
	worst := 0.0
	for i, its := range throughGSL(t, program, 1, cases) {
		ours := cycle(t, cases[i])
		for _, pair := range [][2]float64{{ours.WorkRatio, its.WorkRatio}, {1 + ours.HeatLostRatio, 1 +
			its.HeatLostRatio},
			{1 - ours.MassLostRatio, 1 - its.MassLostRatio}} {
			off := 100 * math.Abs(pair[0]/pair[1]-1)
			worst = max(worst, off)
			if !(off < 0.1) {
				t.Errorf("case %d: ours %.8g, GSL %.8g; %+v", i, pair[0], pair[1], cases[i])
			}
		}
	}
	t.Logf("200 cases; worst %.2g %%", worst)
}

// One cycle in C with GSL, beside BenchmarkCycle in the same run.
func BenchmarkCycleInGSL(b *testing.B) {
	program := gsl(b)
	in := woschni()
	in.WiebeA, in.WiebeM, in.RodRatio = num(5), num(2), num(20)
	const times = 200
	for b.Loop() {
		throughGSL(b, program, times, []CycleIn{in})
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(times*b.N), "µs/cycle")
}

//go:build !wasm

package coil

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"testing"
)

// spiceCoil is one coil at random, charged and broken in one run.
type spiceCoil struct {
	charge ChargeIn
	open   BreakIn
}

// netlist is the same circuit for the simulator, but with the secondary left
// where it is: an ideal transformer drives its capacitance and leak, so that
// the square of the ratio is found by the simulator and not by us.
func (c spiceCoil) netlist() (text string, step float64) {
	from := *c.charge.ChargeMs / 1000
	step = 0.5e-6
	leak := ""
	if c.open.ShuntMegaOhm != nil {
		leak = fmt.Sprintf("R2 s 0 %.9g\n", *c.open.ShuntMegaOhm*1e6)
	}
	return fmt.Sprintf(`coil
V1 a 0 DC %.9g
R1 a b %.9g
L1 b p %.9g IC=0
C1 p 0 %.9g
S1 p 0 ctl 0 points
.model points SW(VT=0.5 VH=0 RON=1e-5 ROFF=1e10)
Vctl ctl 0 PULSE(1 0 %.9g 1n 1n 10 20)
E1 e 0 p 0 %.9g
Vm e s DC 0
F1 p 0 Vm %.9g
C2 s 0 %.9g
%s.options reltol=1e-5 method=trap
.tran %.9g %.9g 0 %.9g UIC
.meas tran amps FIND I(L1) AT=%.9g
.meas tran volts MAX V(p) FROM=%.9g TO=%.9g
.meas tran at MAX_AT V(p) FROM=%.9g TO=%.9g
.meas tran kv MAX V(s) FROM=%.9g TO=%.9g
.end
`, c.charge.SupplyV, c.charge.TotalOhm, c.charge.InductanceMilliH/1e3, c.open.CondenserMicroF*1e-6, from,
		c.open.TurnsRatio, c.open.TurnsRatio, c.open.SecondaryPicoF*1e-12, leak,
		step, from+800e-6, step, from, from, from+800e-6, from, from+800e-6, from, from+800e-6), step
}

var spiceFigure = regexp.MustCompile(`(?m)^(amps|volts|at|kv)\s*=\s*([-+0-9.eE]+)`)

func (c spiceCoil) run(t *testing.T, program, folder string, n int) map[string]float64 {
	text, _ := c.netlist()
	file := filepath.Join(folder, fmt.Sprintf("coil%d.cir", n))
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Error(err)
		return nil
	}
	cmd := exec.Command(program, "-b", file)
	cmd.Dir = folder
	out, err := cmd.CombinedOutput()
	figures := map[string]float64{}
	for _, m := range spiceFigure.FindAllStringSubmatch(string(out), -1) {
		if figures[m[1]], err = strconv.ParseFloat(m[2], 64); err != nil {
			t.Errorf("coil %d: %v", n, err)
		}
	}
	if len(figures) != 4 {
		t.Errorf("coil %d: the simulator gave %v (%v)\n%s\n%s", n, figures, err, text, out)
		return nil
	}
	return figures
}

func randomCoil(rng *rand.Rand, leaky bool) spiceCoil {
	pick := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	ms := pick(1, 12)
	c := spiceCoil{ChargeIn{SupplyV: pick(5, 15), TotalOhm: pick(1.2, 4.5), InductanceMilliH: pick(3, 12),
		ChargeMs: &ms},
		BreakIn{CondenserMicroF: pick(0.12, 0.4), TurnsRatio: pick(40, 110), SecondaryPicoF: pick(25, 120)}}
	if leaky {
		c.open.ShuntMegaOhm = num(pick(1, 10))
	}
	return c
}

// TestAgainstNgspice runs 60 coils at random and the reference one in ngspice,
// half of them with a leak across the plug: current, peak and secondary within
// 0.1 %, the time within the simulator's step and 0.5 %. ngspice is a package
// of Debian, wanted for development only.
func TestAgainstNgspice(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("ngspice is not installed, and CI holds every coil against it: apt-get install ngspice")
		}
		t.Skip("ngspice is not installed; install the Debian package ngspice to hold the coil against it")
	}
	rng := rand.New(rand.NewPCG(4, 12))
	coils := []spiceCoil{{ChargeIn{SupplyV: 12, TotalOhm: 3, InductanceMilliH: 8, ChargeMs: num(6)},
		BreakIn{CondenserMicroF: 0.2, TurnsRatio: 65, SecondaryPicoF: 50}}}
	for i := range 60 {
		coils = append(coils, randomCoil(rng, i%2 == 1))
	}
	folder := t.TempDir()
	var group sync.WaitGroup
	two := make(chan struct{}, 2)
	var lock sync.Mutex
	worst := map[string]float64{}
	for n, c := range coils {
		group.Go(func() {
			two <- struct{}{}
			defer func() { <-two }()
			figures := c.run(t, program, folder, n)
			if figures == nil {
				return
			}
			lock.Lock()
			defer lock.Unlock()
			c.compare(t, n, figures, worst)
		})
	}
	group.Wait()
	t.Logf("%d coils; worst: current %.4f %%, primary %.4f %%, secondary %.4f %%, time %.3f µs", len(coils),
		worst["amps"], worst["volts"], worst["kv"], worst["at"])
}

func (c spiceCoil) compare(t *testing.T, n int, figures, worst map[string]float64) {
	charged, err := Charge(c.charge)
	if err != nil {
		t.Errorf("coil %d: %v", n, err)
		return
	}
	in := c.open
	in.SupplyV, in.TotalOhm, in.InductanceMilliH, in.CurrentA = c.charge.SupplyV, c.charge.TotalOhm,
		c.charge.InductanceMilliH, charged.CurrentA
	out, err := Break(in)
	if err != nil {
		t.Errorf("coil %d: %v", n, err)
		return
	}
	text, step := c.netlist()
	for _, f := range []struct {
		name      string
		ours, its float64
	}{{"amps", charged.CurrentA, figures["amps"]}, {"volts", out.PeakPrimaryV, figures["volts"]},
		{"kv", out.PeakSecondaryKV * 1000, figures["kv"]}} {
		off := 100 * math.Abs(f.ours/f.its-1)
		worst[f.name] = max(worst[f.name], off)
		if !(off < 0.1) {
			t.Errorf("coil %d, %s: ours %.6g, ngspice %.6g\n%s", n, f.name, f.ours, f.its, text)
		}
	}
	its := figures["at"] - *c.charge.ChargeMs/1000
	off := math.Abs(out.PeakAtMicroS - its*1e6)
	worst["at"] = max(worst["at"], off)
	if !(off < step*1e6+0.005*out.PeakAtMicroS) {
		t.Errorf("coil %d: our peak after %.4g µs, ngspice's after %.4g µs", n, out.PeakAtMicroS, its*1e6)
	}
}

// The same circuit, 40 speeds: here by Charge and Break, there by ngspice.
func BenchmarkFortySpeedsInNgspice(b *testing.B) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		b.Skip("ngspice is not installed")
	}
	file := filepath.Join(b.TempDir(), "coil.cir")
	for b.Loop() {
		for i := range 40 {
			ms := 20000.0 / float64(500+150*i)
			text, _ := spiceCoil{ChargeIn{SupplyV: 13.8, TotalOhm: 3.1, InductanceMilliH: 8, ChargeMs: &ms},
				BreakIn{CondenserMicroF: 0.2, TurnsRatio: 65, SecondaryPicoF: 50}}.netlist()
			if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
				b.Fatal(err)
			}
			if err := exec.Command(program, "-b", file).Run(); err != nil {
				b.Fatal(err)
			}
		}
	}
}

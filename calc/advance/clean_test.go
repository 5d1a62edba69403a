package advance

import (
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"
)

// inParallel calls do for 0 … n−1 on as many workers as there are cores.
func inParallel(n int, do func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	wait.Wait()
}

// TestCleanCurvesRaiseNoAlarm judges 1,000 sound governors, each somewhere in
// its band, with noise, and counts every fail, wrong shape or suspicion.
func TestCleanCurvesRaiseNoAlarm(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 19))
	draws := cleanDraws()
	specs, sets := make([]Spec, draws), make([][]Set, draws)
	for i := range draws {
		e := engines[i%3]
		tr := trialRun{e: e, m: e.sound, base: e.base + rng.Float64() - 0.5, bench: i%2 == 0, car: i%2 == 1 || i%5 == 0,
			falling: i%4 < 2}
		tr.m.StartDistRPM *= 0.97 + 0.06*rng.Float64()
		tr.m.PrimaryRate *= 0.95 + 0.1*rng.Float64()
		tr.m.SecondaryRate *= 0.95 + 0.1*rng.Float64()
		tr.m.LimitDistDeg += rng.Float64() - 0.5
		specs[i], sets[i] = tr.read(rng)
	}
	var count atomic.Int64
	inParallel(draws, func(i int) {
		out, err := Judge(JudgeIn{Spec: specs[i], Readings: sets[i]})
		if err != nil || out.Verdict == "fail" || out.Shape != "in-band" || out.Suspicion != "none" {
			count.Add(1)
			t.Logf("%v: %s %s %s %v", err, out.Verdict, out.Shape, out.Suspicion, codes(out))
		}
	})
	alarms := int(count.Load())
	t.Logf("%d false alarms in %d clean noisy curves (%.1f %%)", alarms, draws, 100*float64(alarms)/float64(draws))
	if alarms > max(1, 3*draws/100) { // of few draws one is no rate
		t.Errorf("%d false alarms, want at most 30", alarms)
	}
}

package vacuum

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// Of a capsule that begins at 4 inHg, pumped to 2 or to 4.5, nothing is known
// because nothing moved: that was "pass".
func TestAPumpThatNeverReachedTheStartTellsNothing(t *testing.T) {
	for name, c := range map[string]struct{ in JudgeIn }{
		"2 inHg": {JudgeIn{Capsule: code("4-12-7"), Readings: run(0, 0, 1, 0, 2, 0), Hold: holds(), Source: "ported"}},
		"4.5 inHg": {JudgeIn{Capsule: code("4-12-7"), Readings: run(0, 0, 2, 0, 4.5, 0.1), Hold: holds(),
			Source: "ported"}},
		"no hold test": {JudgeIn{Capsule: code("4-12-7"), Readings: run(1, 0, 3, 0)}},
		"no figures":   {JudgeIn{Capsule: Capsule{Kind: "advance"}, Readings: run(1, 0, 3, 0), Hold: holds()}},
	} {
		out, err := Judge(c.in)
		if err != nil || out.Verdict != "unknown" ||
			!strings.Contains(strings.Join(out.Ask, " "), "never came high enough") {
			t.Errorf("%s: %s, asks %q (%v)", name, out.Verdict, out.Ask, err)
		}
	}
	half, err := Judge(JudgeIn{Capsule: code("4-12-7"), Readings: run(2, 0, 5, 0.9, 8, 3.5), Hold: holds(),
		Source: "ported"})
	if err != nil || half.Verdict != "pass" || !strings.Contains(strings.Join(half.Ask, " "), "in all was not read") {
		t.Errorf("read to half travel: %s, asks %q (%v)", half.Verdict, half.Ask, err)
	}
}

// Twenty sound capsules each with a slip of the sheet: every one was "too much,
// sure". Each is a doubt about the figures now, with a question.
func TestSlipsOfTheSheetAreAsked(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 1953))
	for slip, c := range map[string]struct {
		change func(i int, deg float64) float64
		asks   string
	}{
		"crank-as-distributor": {func(_ int, deg float64) float64 { return 2 * deg }, "read at the crank"},
		"totals":               {func(_ int, deg float64) float64 { return deg + 11 }, "hold the base"},
		"tenfold": {func(i int, deg float64) float64 {
			if i == 3 {
				return 10 * deg
			}
			return deg
		}, "decimal point"},
	} {
		for range 20 {
			in := JudgeIn{Capsule: code("4-12-7"), Hold: holds(), Source: "ported"}
			for i, v := range []float64{0, 3, 5, 8, 10, 12, 15} {
				deg := 7 * math.Min(1, math.Max(0, (v-4)/8))
				x := math.Round(2*c.change(i, deg+.2*rng.NormFloat64())) / 2
				in.Readings = append(in.Readings, Reading{KPa: v * inHg, DistDeg: &x})
			}
			out, err := Judge(in)
			if err != nil || out.Verdict != "unknown" || out.Suspicion != slip ||
				!strings.Contains(strings.Join(out.Ask,
					" "), c.asks) {
				t.Errorf("%s: %s, %s, %s, asks %q (%v)", slip, out.Verdict, out.Suspicion, codes(out), out.Ask, err)
			}
			for _, f := range out.Findings {
				if f.Sureness == "sure" || f.Verdict == "fail" {
					t.Errorf("%s: %s is %s", slip, f.Code, f.Sureness)
				}
			}
		}
	}
}

// The shares add up to one, whatever is typed; no figure is anything but finite;
// another part of the sequence of draws names the same.
func TestSharesAreShares(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1961))
	changed, cases := 0, 0
	for range 40 {
		m := makeCase(rng, truths[rng.IntN(len(truths))])
		out, err := Judge(m.in)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, a := range out.Accounts {
			sum += a.Share
			if math.IsNaN(a.Share) || a.Share < 0 || a.Words == "" {
				t.Fatalf("%+v", out.Accounts)
			}
		}
		if sum < 0.8 || sum > 1+1e-9 {
			t.Errorf("%s: shares add up to %v", m.truth, sum)
		}
		c := &court{in: m.in, ratio: 2, skip: 5000}
		if bad := c.readSpec(); bad != nil {
			t.Fatal(bad)
		}
		if bad := c.gather(); bad != nil {
			t.Fatal(bad)
		}
		cases++
		family, share := c.infer(c.benchOf()).best()
		if again := surenessOf(share); out.Accounts[0].Share > likelyShare+.05 &&
			(familyOf(out.Accounts[0].ID) != family || again == "possible") {
			changed++
		}
	}
	if changed > 1 {
		t.Errorf("other draws named something else in %d of %d", changed, cases)
	}
	wild := JudgeIn{Capsule: code("4-12-7"), Readings: run(0, 45, 30, -30, -2, 45, 12, 0)}
	if out, err := Judge(wild); err != nil || out.Verdict == "pass" {
		t.Errorf("wild figures: %s (%v)", out.Verdict, err)
	}
}

func familyOf(id string) string {
	for _, a := range accounts {
		if a.id == id {
			return a.family
		}
	}
	return ""
}

// A book's table is judged by the same stories.
func TestATableIsWeighedToo(t *testing.T) {
	table := []TablePoint{{10, 0, 0}, {20, 1, 3}, {30, 3.5, 5.5}, {40, 6, 8}}
	for name, c := range map[string]struct {
		degrees []float64
		verdict string
		code    string
	}{
		"sound":       {[]float64{0, 2, 4.5, 7, 7}, "pass", ""},
		"weak":        {[]float64{3, 5.5, 7, 7.2, 7.2}, "fail", "early-start"},
		"crank typed": {[]float64{0, 4, 9, 14, 14}, "unknown", "suspect-crank"},
		"short":       {[]float64{0, 1.5, 2, 2, 2}, "fail", "short"},
	} {
		in := JudgeIn{Capsule: Capsule{Kind: "advance", Table: table}, Hold: holds(), Source: "ported"}
		for i, deg := range c.degrees {
			in.Readings = append(in.Readings, Reading{KPa: 10 * float64(i+1), DistDeg: &deg})
		}
		out, err := Judge(in)
		if err != nil || out.Verdict != c.verdict || codes(out) != c.code {
			t.Errorf("%s: %s [%s] (%v) %+v", name, out.Verdict, codes(out), err, out.Accounts)
		}
	}
}

func BenchmarkJudge(b *testing.B) {
	in := makeCase(rand.New(rand.NewPCG(1, 2)), "short").in
	for len(in.Readings) > 12 {
		in.Readings = in.Readings[:12]
	}
	for b.Loop() {
		if _, err := Judge(in); err != nil {
			b.Fatal(err)
		}
	}
}

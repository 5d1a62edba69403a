//go:build e2e

package e2e

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"pointsmith/calc"
)

// The calculations as the phone asks for them: through the page's own client,
// its worker and WebAssembly. Each also runs natively in the same run, on the
// same input; "ratio" is how many times longer the browser takes. The input is
// the demo car's: seven points in the book, 14 readings on the bench, 7 on the
// car.
func BenchmarkInTheBrowser(b *testing.B) {
	p, car := demo(b)
	p.open(car)
	until(b, "the engine is ready", func() bool {
		return eval[string](p, `import("/js/engine/client.js").then((client) => client.engineState())`) == "ready"
	})
	input := eval[struct {
		Case json.RawMessage
		Fit  struct{ Model json.RawMessage }
	}](p, `Promise.all([import("/js/engine/client.js"), import("/js/record/case.js")]).then(async ([client, cases]) => {
		const {spec, sets} = cases.caseOf("demolinnet1250car000");
		const given = {spec, readings: sets};
		return {Case: given, Fit: {Model: (await client.call("advance.fit", given)).model}};
	})`)
	for _, c := range []struct {
		method string
		in     string
	}{
		{"advance.judge", string(input.Case)},
		{"advance.fit", string(input.Case)},
		{"advance.prescribe", string(input.Case)},
		{"advance.whatif", fmt.Sprintf(`{"model": %s, "change": {"primarySpring": 1.2}}`, input.Fit.Model)},
	} {
		b.Run(c.method, func(b *testing.B) { inTheBrowser(b, p.in(b), c.method, c.in) })
	}
}

// inTheBrowser gives the time of all b.N calls in the browser.
func inTheBrowser(b *testing.B, p *page, method, in string) (there time.Duration) {
	var here time.Duration
	// warm
	eval[bool](p, fmt.Sprintf(`import("/js/engine/client.js").then(async (client) => { const input = %s; for (let i = 0; i < 3; i++) await client.call(%q, input); return true; })`, in, method))
	b.ResetTimer()
	for range b.N {
		took := eval[float64](p, fmt.Sprintf(`import("/js/engine/client.js").then(async (client) => {
			const input = %s, began = performance.now();
			await client.call(%q, input);
			return performance.now() - began;
		})`, in, method))
		there += time.Duration(took * float64(time.Millisecond))
		began := time.Now()
		if _, err := calc.Call(method, []byte(in)); err != nil {
			b.Fatal(err)
		}
		here += time.Since(began)
	}
	b.ReportMetric(float64(there.Nanoseconds())/float64(b.N), "ns/op")
	b.ReportMetric(float64(here.Nanoseconds())/float64(b.N), "native-ns/op")
	b.ReportMetric(float64(there)/float64(here), "ratio")
	return there
}

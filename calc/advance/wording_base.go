package advance

import (
	"fmt"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/finding"
)

// baseWords says where the base stands and which way to turn.
func (w wording) baseWords(f *finding.Finding, id string) {
	f.DisprovedBy = w.lampDisproof() + "; or the timing mark itself is wrong (true TDC by a positive stop)"
	r := infer.RangeOf(w.withElement(id), func(d *infer.Drawn) float64 { return d.Base * halfSpeed })
	if w.band.base == nil {
		f.Title = "Every reading is off by one amount: the base"
		f.Text = "The curve has the book's shape; the whole of it stands off by one amount. That is the body of the distributor turned, not a spring."
		return
	}
	off := r.Middle - *w.band.base
	turn := "against the rotor's running direction"
	if off > 0 {
		turn = "with the rotor's running direction"
	}
	f.Title = fmt.Sprintf("The base is %.1f crank degrees too %s: %s", abs(off), earlyLate(off), before(r.Middle))
	f.Working = append(
		[]string{fmt.Sprintf(
			"Base as found %.1f (between %.1f and %.1f) less the book's %.1f = %+.1f crank degrees. How found: %s.",
			r.Middle, r.Low, r.High, *w.band.base, off, basisWords[w.howBase()])}, f.Working...)
	order := fmt.Sprintf("urn the body %s until the base is %s, tighten the clamp and prove it again after tightening.",
		turn, before(*w.band.base))
	switch {
	case len(w.usable) == 0:
		f.Text = "By the test lamp the base is off; no curve was read, so nothing is said of it. T" + order
	case w.oneSpeed():
		f.Text = "The base looks off, but one speed says nothing about the curve. Prove the static timing with the test lamp, engine stopped; where that agrees, t" + order
	case w.sum(w.shares, isInside) >= 0.5:
		f.Text = "Beside the fault of the curve, the base itself is off. Repair the curve first, then t" + order
	case w.sum(w.shares, isBench) >= 0.5:
		f.Text = "Beside the ring of the bench, the readings on the car stand off by one amount: the base. Repeat the bench run with the ring zeroed first; where that agrees, t" + order
	default:
		f.Text = fmt.Sprintf("%s: it is the base and not the curve, and no spring needs touching for this. T%s",
			upperFirst(w.counts.words()), order)
	}
	if idle, ok := w.hidingIdle(r.Middle); ok {
		w.hiddenWords(f, idle, r.Middle)
	}
}

// withElement gives the units drawn under all accounts that hold an element.
func (j *judgement) withElement(e string) []infer.Drawn {
	var out []infer.Drawn
	for _, d := range j.units {
		if holds(d.ID, e) {
			out = append(out, d)
		}
	}
	return out
}

// hidingIdle is the lowest car reading where it stands at the book's base
// figure although the curve has begun there: both within a degree and a half,
// "set to the book's number" (chosen).
func (j *judgement) hidingIdle(base float64) (idle reading, ok bool) {
	car := pick(j.usable, func(r reading) bool { return r.withBase && !r.falling })
	if len(car) == 0 || j.band.base == nil {
		return reading{}, false
	}
	return car[0], abs(car[0].deg-*j.band.base) <= 1.5 && car[0].deg-base > 1.5
}

func (w wording) hiddenWords(f *finding.Finding, idle reading, base float64) {
	book := *w.band.base
	order := "Repair the curve first, then set"
	if w.sum(w.shares, isInside) < 0.5 {
		order = "The curve itself is not in question: set"
	}
	f.Code, f.Title = "base-hidden", fmt.Sprintf("The base is %s, hidden behind an idle figure of %.1f",
		before(base), idle.deg)
	f.Text = fmt.Sprintf("At %.0f engine rpm the strobe shows %s, the book's own base figure, and looks right. But the weights have already moved there: about %.1f of it is advance, so the base is %s. The book's base is meant with the weights fully in. %s the base to %s, static, and read again.",
		idle.rpm, before(idle.deg), idle.deg-base, before(base), order, before(book))
	f.Sources = []string{"base = total − advance at the same speed: arithmetic",
		"an idle above the start of the advance hides a wrong base: common practice"}
}

// lampDisproof is the measurement that would speak against a moved base; where
// the lamp was held to it already, that very figure taken again.
func (j *judgement) lampDisproof() string {
	if len(j.static) > 0 {
		return "the static figure proved again with the test lamp, coming up to the mark in the running direction, shows the book's figure after all"
	}
	return "static timing proved with the test lamp, engine stopped and the weights fully in, shows the book's figure"
}

// benchWords is about a bench run that stands off by one amount, rest included.
func (w wording) benchWords(f *finding.Finding, id string) {
	r := infer.RangeOf(w.withElement(id), func(d *infer.Drawn) float64 { return d.Zero * halfSpeed / w.band.ratio })
	f.Title = fmt.Sprintf("The whole bench run stands off by %+.1f distributor degrees", r.Middle)
	f.Text = "Every reading of the bench is off by one amount, the lowest speed too. Zero the ring again below the start of the advance and repeat. " +
		"If the zero will not stay, the weights do not go fully in: clean and oil them, and look at the primary spring."
	f.DisprovedBy = "the ring reads zero again at the lowest speed after the run"
	f.Working = append([]string{fmt.Sprintf("Off by %+.1f distributor degrees (between %+.1f and %+.1f).", r.Middle,
		r.Low, r.High)}, f.Working...)
}

// oneSpeed tells whether all readings stand at nearly one speed: a fifth apart
// shows no shape (chosen).
func (j *judgement) oneSpeed() bool {
	if len(j.usable) == 0 {
		return false
	}
	least, most := j.usable[0].rpm, j.usable[0].rpm
	for _, r := range j.usable {
		least, most = min(least, r.rpm), max(most, r.rpm)
	}
	return most < 1.2*least
}

// clashCaution stands before any turning of the engine with a stop in it.
const clashCaution = "Plugs out and coil feed off before the engine is turned by hand. Never use the starter with a stop fitted; take the stop out before starting."

// staticFindings are about a lamp figure that the readings speak against.
func (w wording) staticFindings() {
	if len(w.slipped) == 0 {
		if w.element("mark-off") >= 0.5 {
			w.lampAgainstStrobe(0, w.element("mark-off"))
		}
		return
	}
	if len(w.static) > 1 {
		w.lampsDiffer()
		return
	}
	w.lampAgainstStrobe(w.slipped[0], w.result.Static[w.slipped[0]])
}

// lampAgainstStrobe: lamp figure k and the readings cannot both be right.
func (w wording) lampAgainstStrobe(k int, share float64) {
	s, found := w.static[k], infer.RangeOf(w.units, func(d *infer.Drawn) float64 {
		return (d.Base + d.Mark) * halfSpeed
	})
	w.add(finding.Finding{Code: "base-contradicted",
		Title: fmt.Sprintf("The test lamp disagrees with the readings by %.1f°: turn nothing yet",
			abs(found.Middle-s.deg)),
		Part: "TDC mark, test lamp, strobe lead or vacuum pipe", Direction: "check before touching anything",
		Sureness: sureness(share),
		Text: fmt.Sprintf("By the test lamp, engine stopped, the base is %s. The readings ask for %s. Both cannot be right. Turn nothing before it is known which is wrong: the mark (slipped, or another mark taken for TDC), the test lamp (misread, weights not fully in, slack in the drive), the strobe (lead of another cylinder), or the vacuum pipe left on. Prove true TDC with a positive stop; then the static timing again; then the strobe with the pipe off and plugged.",
			before(s.deg), before(found.Middle)),
		DisprovedBy: "with TDC proved and the pipe off and plugged, test lamp and strobe taken again agree to a degree or two",
		Caution:     clashCaution,
		Working: []string{fmt.Sprintf(
			"Readings: %.1f (between %.1f and %.1f). Test lamp: %.1f, reading error %.3g. Difference %+.1f crank degrees.",
			found.Middle, found.Low, found.High, s.deg, s.err, found.Middle-s.deg)},
		Sources: []string{"static timing with slack in chain and drive is good to about ±1 crank degree: common practice",
			"true TDC lies half-way between two touches of a stop: common practice"}})
	w.ask("Has the timing mark been proved as true TDC with a positive stop, and is the strobe's lead on No. 1?")
}

func (w wording) lampsDiffer() {
	a, b := w.static[0], w.static[len(w.static)-1]
	w.add(finding.Finding{Code: "static-figures-differ",
		Title: fmt.Sprintf("Two static figures differ by %.1f°: turn nothing yet", abs(a.deg-b.deg)),
		Part:  "static timing by test lamp", Direction: "check before touching anything", Sureness: "likely",
		Text: fmt.Sprintf("The test lamp gave %s in one set and %s in another. If the body was turned between them, judge the later set alone. If not, one was misread, or the clamp does not hold: prove the static timing again, coming up to the mark in the running direction.",
			before(a.deg), before(b.deg)),
		DisprovedBy: "the static timing proved twice over agrees to a degree",
		Working: []string{fmt.Sprintf("%.1f and %.1f: %.1f crank degrees apart; reading errors allow %.3g.", a.deg,
			b.deg, abs(a.deg-b.deg), a.err+b.err)}})
	w.ask("Which static figure belongs to the readings as they stand: was the body turned between the two?")
}

// idleFinding: a figure set by strobe at one speed to the book's base, where the
// book's own curve has already begun.
func (w wording) idleFinding() {
	car := pick(w.usable, func(r reading) bool { return r.withBase && !r.falling })
	if w.band.base == nil || len(car) == 0 || len(car) < len(w.usable) || len(w.static) > 0 || !w.oneSpeed() {
		return
	}
	idle, book := car[0], *w.band.base
	k := w.band.allowedAlone(w.band.allowed(w.spec, []float64{idle.rpm})[0])
	// a degree and a half: "set to the book's number" (chosen)
	if w.band.silent(idle.rpm) || k.high <= 1 || abs(idle.deg-book) > 1.5 {
		return
	}
	w.add(finding.Finding{Code: "idle-holds-advance", Title: "Set to the book's figure at idle, the base is late",
		Part: partBody, Direction: "too late", Sureness: "possible",
		Text: fmt.Sprintf("The book's %s is meant with the weights fully in. At %.0f engine rpm a sound curve already adds %.1f to %.1f, so a strobe figure of %.1f there means a base of %.1f to %.1f. With a sound curve the strobe should show %.1f to %.1f at this idle. One idle figure says nothing about the curve: read at least at 1500, 2000 to 2500, and all-in.",
			before(book), idle.rpm, k.low, k.high, idle.deg, idle.deg-k.high, idle.deg-k.low, book+k.low, book+k.high),
		DisprovedBy: "static timing proved with the test lamp, engine stopped",
		Working: []string{fmt.Sprintf("%.1f − %.1f to %.1f = %.1f to %.1f before TDC.", idle.deg, k.low, k.high,
			idle.deg-k.high, idle.deg-k.low)}})
}

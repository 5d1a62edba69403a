package advance

import (
	"fmt"

	"pointsmith/calc/finding"
)

// clash is the lamp against another measurement of the base: both cannot be
// right, so neither is taken for the base and nothing is turned.
type clash struct {
	static, other float64 // crank degrees before TDC
	low, high     float64 // between these the other lies
	from          string  // byStrobe, byBoth, secondLamp
	err           float64 // reading error of the static figure
}

// What the lamp may disagree with.
const (
	byStrobe   = "the strobe"
	byBoth     = "bench and car together"
	secondLamp = "a second lamp figure"
)

func (k clash) gap() float64 { return abs(k.other - k.static) }

// lampAgainstStrobe: with the lamp's base taken off, the car's readings have
// the book's shape and still stand off by one amount.
func (c *court) lampAgainstStrobe() {
	if c.shape.shape != "base-only" {
		return
	}
	s := c.base.value
	c.clash = &clash{static: s, other: s + c.shape.offset, low: s + c.shape.low, high: s + c.shape.high, from: byStrobe, err: c.base.high - s}
	c.base = baseFinding{}
}

// clashCaution stands before any turning of the engine with a stop in it.
const clashCaution = "Plugs out and coil feed off before the engine is turned by hand. Never use the starter with a stop fitted; take the stop out before starting."

func (c *court) clashFinding() {
	k := c.clash
	sure := "likely"
	if nearest := min(abs(k.low-k.static), abs(k.high-k.static)); nearest > k.err {
		sure = "sure"
	}
	if k.from == secondLamp {
		c.lampsDiffer(sure)
		return
	}
	says := "The readings on the car have the book's shape, but ask for"
	if k.from == byBoth {
		says = "The car's readings less the bench's advance leave"
	}
	c.add(finding.Finding{Code: "base-contradicted", Title: fmt.Sprintf("The lamp disagrees with %s by %.1f°: turn nothing yet", k.from, k.gap()), Part: "TDC mark, lamp, strobe lead or vacuum pipe", Direction: "check before touching anything", Sureness: sure,
		Text: fmt.Sprintf("By the lamp, engine stopped, the base is %s. %s a base of %s. Both cannot be right. Do not turn the body and change nothing inside before it is known which is wrong: the timing mark (slipped, or another mark taken for TDC), the lamp (static figure misread, weights not home, slack in the drive), the strobe (lead of another cylinder, dial-back not at zero), or the vacuum pipe left on. Prove true TDC with a positive stop and look where the mark stands; then prove the static timing with the lamp again; then read the strobe again with the pipe off and plugged.",
			before(k.static), says, before(k.other)),
		DisprovedBy: "with TDC proved and the pipe off and plugged, lamp and strobe taken again agree to a degree or two",
		Caution:     clashCaution,
		Working:     []string{fmt.Sprintf("%s: %.1f (between %.1f and %.1f). Lamp: %.1f, reading error %.3g. Difference %+.1f crank degrees.", upperFirst(k.from), k.other, k.low, k.high, k.static, k.err, k.other-k.static)},
		Sources:     []string{"static timing with slack in chain and drive is good to about ±1 crank degree: common practice", "true TDC lies half-way between two touches of a stop: common practice"}})
	c.ask("Has the timing mark been proved as true TDC with a positive stop, and is the strobe's lead on No. 1?")
}

func (c *court) lampsDiffer(sure string) {
	k := c.clash
	find := finding.Finding{Code: "static-figures-differ", Title: fmt.Sprintf("Two static figures differ by %.1f°: turn nothing yet", k.gap()), Part: "static timing by the lamp", Direction: "check before touching anything", Sureness: sure,
		Text:        fmt.Sprintf("The lamp gave %s in one set and %s in another. If the body was turned between them, judge the later set alone. If not, one was misread, or the clamp does not hold: prove the static timing again, coming up to the mark in the running direction.", before(k.static), before(k.other)),
		DisprovedBy: "the static timing proved twice over agrees to a degree",
		Working:     []string{fmt.Sprintf("%.1f and %.1f: %.1f crank degrees apart; reading errors allow %.3g.", k.static, k.other, k.gap(), k.err+(k.high-k.low)/2)}}
	if both := c.benchAndCar(); both.known() {
		find.Text += fmt.Sprintf(" The car's readings less the bench's advance leave a base of %s.", before(both.value))
	}
	c.add(find)
	c.ask("Which static figure belongs to the readings as they stand: was the body turned between the two?")
}

// words says both figures in one sentence.
func (k clash) words() string {
	if k.from == secondLamp {
		return fmt.Sprintf("two static figures differ, %s and %s. Turn nothing before it is known which one stands", before(k.static), before(k.other))
	}
	return fmt.Sprintf("the lamp gives a base of %s, %s %s: they disagree by %.1f°. Turn nothing before it is known which is wrong", before(k.static), k.from, before(k.other), k.gap())
}

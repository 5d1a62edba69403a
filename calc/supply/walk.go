package supply

import (
	"fmt"
	"strings"

	"pointsmith/calc/finding"
)

// walk gives drop and resistance of each stretch.
func (c *court) walk() {
	c.current()
	for i := 1; i < len(c.order); i++ {
		from, to := c.order[i-1], c.order[i]
		name, limit, sources, _ := stretchOf(from, to)
		if !c.in.Ballasted && from < index("ballastIn") && to > index("ballastOut") {
			name, limit, sources = c.withoutBallast(from, to)
		}
		s := Stretch{From: way[from].id, To: way[to].id, Name: name, DropV: c.volts[from] - c.volts[to],
			Verdict: "unknown", Source: strings.Join(unique(sources), "; ")}
		if limit > 0 {
			s.LimitV = &limit
		}
		if c.out.CurrentA != nil {
			ohm := max(0, s.DropV) / *c.out.CurrentA
			s.Ohm = &ohm
		}
		c.out.Stretches = append(c.out.Stretches, s)
		c.say("%s to %s: %.3g − %.3g = %.3g V%s.", way[from].name, way[to].name, c.volts[from], c.volts[to],
			s.DropV, ohms(s.Ohm))
	}
}

// withoutBallast is a stretch across where a ballast would be: one lead from
// the switch to the coil.
func (c *court) withoutBallast(from, to int) (string, float64, []string) {
	name, limit, sources, _ := stretchOf(from, index("ballastIn"))
	if to > index("coilFeed") {
		more, _, rest, _ := stretchOf(index("coilFeed"), to)
		return name + ", " + more, 0, append(sources, rest...) // the coil is in it
	}
	return name, limit, sources
}

func ohms(x *float64) string {
	if x == nil {
		return ""
	}
	return fmt.Sprintf(", that is %.3g Ω", *x)
}

func unique(list []string) (out []string) {
	for _, s := range list {
		if len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	return out
}

// current finds the amperes: measured, through the coil, or through the ballast.
func (c *court) current() {
	across := func(from, to string, ohm *float64, what string) {
		a, b := index(from), index(to)
		before, hasA := c.volts[a]
		after, hasB := c.volts[b]
		if c.out.CurrentA == nil && ohm != nil && hasA && hasB && before-after > leastDrop {
			amps := (before - after) / *ohm
			c.out.CurrentA = &amps
			c.out.CurrentBy = fmt.Sprintf("%.3g V across the %s of %.3g Ω: %.3g A", before-after, what, *ohm, amps)
		}
	}
	c.out.CurrentBy = "not known: " + c.toKnowCurrent()
	if c.in.CurrentA != nil {
		c.out.CurrentA, c.out.CurrentBy = c.in.CurrentA, "as measured"
	}
	if c.in.State == "closed" {
		across("coilFeed", "coilPoints", c.in.CoilOhm, "coil")
		across("ballastIn", "ballastOut", c.in.BallastOhm, "ballast")
	}
	c.say("Current: %s.", c.out.CurrentBy)
}

// leastDrop is the least volts across a load of known ohms that tell a current: chosen, ten times what a meter's two
// readings differ by.
const leastDrop = 0.2

// toKnowCurrent says what is missing to know the amperes, and asks for nothing that is given.
func (c *court) toKnowCurrent() string {
	switch {
	case c.in.State != "closed":
		return "with the starter turning no reading tells it"
	case c.in.CoilOhm == nil && c.in.BallastOhm == nil:
		return "give the coil's ohms"
	}
	from, to := "coilFeed", "coilPoints"
	if c.in.CoilOhm == nil {
		from, to = "ballastIn", "ballastOut"
	}
	var missing []string
	for _, id := range []string{from, to} {
		if _, isMeasured := c.volts[index(id)]; !isMeasured {
			missing = append(missing, "“"+way[index(id)].name+"”")
		}
	}
	if len(missing) == 0 {
		return "no volts are lost across the " + map[string]string{"coilFeed": "coil", "ballastIn": "ballast"}[from]
	}
	return "measure at " + strings.Join(missing, " and ") + " too"
}

// noCurrent tells readings that were taken with the points open, and a wire
// that is off: then drops say nothing, or one says everything.
func (c *court) noCurrent() bool {
	if c.in.State != "closed" {
		return false
	}
	battery := c.volts[0]
	if battery < 0.5*c.in.NominalV {
		c.idle = true
		return false // battery says that
	}
	for i := 1; i < len(c.order)-1; i++ {
		from, to := c.order[i-1], c.order[i]
		if c.volts[from] > 0.9*battery && c.volts[to] < 0.05*battery && !holdsCoil(from, to) {
			c.out.Guilty = way[from].id
			name, _, _, cures := stretchOf(from, to)
			c.find(finding.Fail, finding.Finding{Code: "open-circuit", Title: "No volts beyond the " + way[from].name,
				Part: name, Direction: "open", Sureness: "sure",
				DisprovedBy: "volts at the far end after the joint was moved",
				Text: fmt.Sprintf("Battery volts reach the %s and nothing reaches the %s: the wire, switch or joint between them is open. ",
					way[from].name, way[to].name) + strings.Join(cures, " "), Working: []string{c.out.Working[i+1]}})
			c.idle = true
			return true
		}
	}
	return c.pointsOpen(battery)
}

// holdsCoil: a sound coil before closed points falls to nothing as well.
func holdsCoil(from, to int) bool {
	coil := index("coilFeed")
	return from <= coil && coil < to
}

func (c *court) pointsOpen(battery float64) bool {
	for _, id := range []string{"distributor", "coilPoints"} {
		v, measured := c.volts[index(id)]
		if !measured {
			continue
		}
		if v < 0.5*battery {
			return false
		}
		c.idle = true
		c.out.Ask = append(c.out.Ask, "Were the points closed? Turn the engine until they are, or bridge the distributor terminal to earth, and measure again.")
		c.find(finding.Unknown, finding.Finding{Code: "points-open",
			Title: "No current flows: points open, or burnt out", Part: "points", Sureness: "likely",
			DisprovedBy: "the heel stands between two lobes and the faces touch: then the points or their inner lead do not conduct, and that is the fault",
			Text:        "The distributor side of the coil stands at battery volts. Without current there are no drops to judge. Turn the engine until the points are closed and take all readings again.",
			Caution:     "Plugs out or gear in neutral, hands clear of the fan, before turning the engine.",
			Working:     []string{fmt.Sprintf("%.3g V at the %s of %.3g V.", v, way[index(id)].name, battery)}})
		return true
	}
	return false
}

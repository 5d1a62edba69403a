package coil

import (
	"fmt"
	"math"

	"pointsmith/calc/finding"
	"pointsmith/calc/refuse"
)

// Feed is the volts that reach the coil's feed terminal, as measured.
type Feed struct {
	ClosedV   *float64 `json:"closedV,omitempty" over:"0" max:"30" unit:"volts" help:"at the coil's feed terminal, ignition on, engine stopped, points closed; beside stoppedV"`
	RunningV  *float64 `json:"runningV,omitempty" over:"0" max:"30" unit:"volts" help:"the same with the engine idling, as a meter shows it; beside supplyV"`
	CrankingV *float64 `json:"crankingV,omitempty" over:"0" max:"30" unit:"volts" help:"the same with the starter turning; beside cranking.batteryV"`
}

const (
	feedMost    = 0.3 // volts lost from battery to coil without a ballast: common practice, as supply.judge
	feedReading = 0.1 // volts two readings of one meter may differ, and the battery move between them (chosen)
	sixLeast    = 5.7 // volts at the coil of a 6 V car: common practice, as supply.judge
	idleRPM     = 800 // engine rpm at which runningV is taken as read (chosen)
)

// feedOhm is the resistance between battery and coil as the volts tell it; the
// worse of the two readings counts. From closed points it is Ohm's law; running,
// a meter shows the mean, so the ohms are sought at which the mean current of an
// idling engine loses just that.
func (r *run) feedOhm() (ohm float64, known bool) {
	if v := r.in.Feed.ClosedV; v != nil && *v < r.out.StoppedV+feedReading {
		ohm, known = math.Max(0, (r.out.StoppedV-*v)/(*v/r.circuit.primary)), true
	}
	if v := r.in.Feed.RunningV; v != nil && *v < r.in.SupplyV+feedReading {
		ohm, known = math.Max(ohm, r.ohmByMean(r.in.SupplyV, *v, idleRPM)), true
	}
	return ohm, known
}

// ohmByMean is the resistance at which a feed of these volts shows that mean at
// the coil.
func (r *run) ohmByMean(battery, shown, rpm float64) float64 {
	low, high := 0.0, 20.0 // ohms: beyond any feed
	if shown >= battery {
		return 0
	}
	for range 50 {
		mid := (low + high) / 2
		if battery-mid*r.meanAmps(battery, r.circuit.primary+mid, rpm) > shown {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// meanAmps is the mean current over closed and open points:
// share closed × I (1 − τ/t (1 − e^(−t/τ))).
func (r *run) meanAmps(volts, ohm, rpm float64) float64 {
	l := loop{volts, ohm, r.circuit.milliH / 1000}
	turns := engineTurns(r.in.DriveRatio)
	closed := r.dwell * turns / (6 * rpm)
	x := closed / l.tau()
	return r.dwell * float64(r.in.Cylinders) / 360 * l.full() * (1 + math.Expm1(-x)/x)
}

// takeFeed puts what was measured at the coil in place of the ohms of ballast
// and leads, and asks where two readings cannot both be right.
func (r *run) takeFeed() {
	r.loopOhm = r.circuit.total()
	for _, f := range []struct {
		v       *float64
		battery float64
		name    string
	}{{r.in.Feed.ClosedV, r.out.StoppedV, "with the points closed"}, {r.in.Feed.RunningV, r.in.SupplyV,
		"with the engine running"}} {
		if f.v != nil && *f.v >= f.battery+feedReading {
			r.out.Ask = append(r.out.Ask,
				fmt.Sprintf("At the coil %.3g V %s, and %.3g V at the battery? Read both again, one "+
					"after the other.", *f.v, f.name, f.battery))
		}
	}
	if ohm, known := r.feedOhm(); known {
		r.loopOhm, r.feed = r.circuit.primary+ohm, ohm
		r.out.FeedOhm = &ohm
	}
	r.out.TotalOhm = r.loopOhm
}

// feedFinding judges the volts lost on the way to the coil.
func (r *run) feedFinding() {
	for _, f := range []struct {
		v       *float64
		battery float64
		name    string
	}{{r.in.Feed.ClosedV, r.out.StoppedV, "points closed"}, {r.in.Feed.RunningV, r.in.SupplyV, "engine running"}} {
		if f.v == nil || r.circuit.ballast > 0 {
			continue
		}
		drop := f.battery - *f.v
		low := r.sixVolt && *f.v < sixLeast && drop > feedMost
		if drop <= feedMost+feedReading && !low {
			continue
		}
		verdict := finding.Watch
		if drop > 2*feedMost+feedReading {
			verdict = finding.Fail
		}
		r.find(verdict, finding.Finding{Code: "feed-drop", Title: fmt.Sprintf("%.2g V lost before the coil", drop),
			Part: "feed from battery to coil", Direction: "too low", Sureness: "likely",
			Text: "The coil never sees the battery's volts: clamp, ignition switch, connectors, a resistance wire left " +
				"in the loom. Walk along the feed with the meter; the stretch that loses most is the one. A coil or a ballast " +
				"bought before that cures nothing.",
			DisprovedBy: "battery and coil feed read one after the other, points seen closed: 0.3 V between them at most",
			Caution:     "Do not leave the ignition on with the points closed longer than the reading takes.",
			Working: []string{fmt.Sprintf("Battery %.3g V less coil %.3g V (%s): %.3g V, at most %.1f V without a "+
				"ballast.", f.battery, *f.v, f.name, drop, feedMost)},
			Sources: []string{"0.3 V from battery to coil without a ballast, 5.7 V at the coil of a 6 V car: " +
				"common practice"}})
		return
	}
}

// polarityFinding: a spark that jumps the wrong way round is a fault here as on
// its own page.
func (r *run) polarityFinding() {
	if r.in.Plug.Polarity != "wrong" {
		if r.in.Plug.Polarity != "right" {
			r.out.Ask = append(r.out.Ask,
				"Which way round does the spark jump? Until that is known the need is taken 15 % "+
					"higher. Look which small terminal the distributor's wire is on, or hold a graphite point between lead and plug.")
		}
		return
	}
	r.find(finding.Fail, finding.Finding{Code: "polarity-wrong", Title: "The spark jumps the wrong way round",
		Part: "coil", Direction: "reversed", Sureness: "likely", Sources: polaritySources,
		Text: "The plug asks for 10 to 15 % more than it has to. Swap the two small wires on the coil; it " +
			"costs nothing.",
		Caution:     "Ignition off before touching the coil's terminals.",
		DisprovedBy: "a graphite point between lead and plug flares on the plug's side",
		Working:     []string{"The need of every row holds these 10 to 15 %."}})
}

// measuredStart is the start on the volts measured at the coil with the starter
// turning. Without the battery's volts beside it they are taken as they are,
// which is the most that can be.
func (r *run) measuredStart(rpm float64, need func(volts, ohm float64) (Row, *refuse.Error)) *refuse.Error {
	v := r.in.Feed.CrankingV
	if v == nil {
		return nil
	}
	battery, volts, ohm := *v, *v, r.circuit.primary
	if b := r.in.Cranking.BatteryV; b != nil && *b > *v {
		battery, volts = *b, *b
		ohm += r.ohmByMean(*b, *v, rpm)
	}
	row, bad := need(volts, ohm)
	if bad != nil {
		return bad
	}
	r.out.Cranking = append(r.out.Cranking, CrankingRow{Row: row, BatteryV: battery, Measured: true, FeedV: v})
	return nil
}

// measuredStartFinding judges that row.
func (r *run) measuredStartFinding() {
	least := crankingLeast
	if r.sixVolt {
		least /= 2
	}
	for _, row := range r.out.Cranking {
		if !row.Measured {
			continue
		}
		if row.Verdict == finding.Fail {
			r.find(finding.Fail,
				r.startShort(row, "The volts at the coil with the starter turning are too low: battery, "+
					"clamps, engine strap, and the feed to the coil, in that order."))
		} else if *row.FeedV < least {
			r.find(finding.Watch,
				finding.Finding{Code: "coil-low-cranking", Title: fmt.Sprintf("Only %.3g V at the coil while "+
					"cranking", *row.FeedV), Part: "battery, heavy leads and feed", Direction: "too low",
					Sureness: "likely",
					Text:     "It may start warm and not cold. Battery and clamps first, then the feed.",
					DisprovedBy: "the same with a " +
						"charged battery", Caution: "Neutral, handbrake on, clear of fan and belts before cranking.",
					Working: []string{fmt.Sprintf("%.3g V, at least %.3g V.", *row.FeedV, least)},
					Sources: []string{"9 V at the coil " +
						"while cranking: a maker's workshop manual; half of it on 6 V is a guess"}})
		}
	}
}

const crankingLeast = 9.0 // volts at the coil of a 12 V car: a maker's workshop manual

package coil

import (
	"fmt"

	"pointsmith/calc/refuse"
)

// Losses is what of the worked-out peak a real coil gives.
type Losses struct {
	ShareLow  *float64 `json:"shareLow,omitempty" over:"0" max:"1" unit:"share of the peak volts" help:"least that is left after iron, leakage between the windings and the arc at the points; 0.65 unless said"`
	ShareHigh *float64 `json:"shareHigh,omitempty" over:"0" max:"1" unit:"share of the peak volts" help:"most that is left; 0.85 unless said"`
}

// Loss is one loss that was taken off, with where it comes from.
type Loss struct {
	Name   string  `json:"name" enum:"iron-and-arc|secondary-load|dirty-plug" help:"which loss"`
	Low    float64 `json:"low" unit:"of the loss" help:"the heavier end: least share left, most picofarads, fewest megohms"`
	High   float64 `json:"high" unit:"of the loss" help:"the lighter end"`
	Words  string  `json:"words" help:"the loss in words"`
	Source string  `json:"source" help:"where the figures come from"`
}

const (
	// shareLow and shareHigh of the peak volts are left (chosen): with secondaryMost
	// the usual 12 V coil, 35 kV on paper, gives the 20 to 30 kV of the trade (common
	// practice); 42 to 72 % of the stored energy.
	shareLow  = 0.65
	shareHigh = 0.85
	// secondaryLeast is the load of inductive test standards, secondaryMost the same
	// with long leads and a plug, picofarads (both from memory).
	secondaryLeast = 50.0
	secondaryMost  = 75.0
)

// shares gives what is left of the peak, least and most.
func (l Losses) shares() (low, high float64, bad *refuse.Error) {
	low, high = shareLow, shareHigh
	if l.ShareLow != nil {
		low = *l.ShareLow
	}
	if l.ShareHigh != nil {
		high = *l.ShareHigh
	}
	if low > high {
		return 0, 0, refuse.Input("losses.shareLow", fmt.Sprintf("%.3g is more than the most left, %.3g", low, high),
			"at most shareHigh", "correct one of the two")
	}
	return low, high, nil
}

// loaded is the circuit with the heavier load of leads and plug, where nobody
// gave the load.
func (r *run) loaded() circuit {
	c := r.circuit
	if r.in.Coil.SecondaryPicoF == nil {
		c.picoF = secondaryMost
	}
	return c
}

// realKV is what a real coil gives with a clean plug and with a dirty one.
type realKV struct{ low, high, dirtyLow, dirtyHigh float64 }

// real takes the losses off: the heavier end from the heavier load and the
// least share, the lighter end from the peak that was worked out.
func (r *run) real(volts, ohm, amps, best, leaky float64) (realKV, *refuse.Error) {
	low, high, bad := r.in.Losses.shares()
	if bad != nil {
		return realKV{}, bad
	}
	heavyBest, heavyLeaky, bad := r.loaded().kilovolts(volts, ohm, amps, r.leak)
	if bad != nil {
		return realKV{}, bad
	}
	return realKV{low * heavyBest, high * best, low * heavyLeaky, high * leaky}, nil
}

// stated lists the losses with their figures and sources.
func (r *run) stated() []Loss {
	low, high, _ := r.in.Losses.shares()
	share, load, leak := "chosen: with them the usual 12 V coil gives the 20 to 30 kV of the trade (common practice)",
		"50 to 75 pF: test load, and long leads with a plug; both from memory", "1 MΩ: the load of inductive test "+
			"standards, from memory"
	if r.in.Losses.ShareLow != nil || r.in.Losses.ShareHigh != nil {
		share = "as given"
	}
	if r.in.Coil.SecondaryPicoF != nil {
		load = "as given"
	}
	if r.in.Plug.LeakMegaOhm != nil {
		leak = "as given"
	}
	return []Loss{
		{"iron-and-arc", low, high,
			fmt.Sprintf("Iron, leakage between the windings and the arc at the points leave %.2g to "+
				"%.2g of the peak.", low, high), share},
		{"secondary-load", r.loaded().picoF, r.circuit.picoF,
			fmt.Sprintf("Secondary, leads and plug load the coil with "+
				"%.3g to %.3g pF.", r.circuit.picoF, r.loaded().picoF), load},
		{"dirty-plug", r.leak, r.leak, fmt.Sprintf("A dirty plug or lead leaks across %.3g MΩ.", r.leak), leak},
	}
}

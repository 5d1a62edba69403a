package web

import (
	"runtime"
	"time"

	"pointsmith/calc"
	"pointsmith/cmd/internal/web/turns"
)

// How calculations share the machine. There are two lanes, so that a figure
// turned from inches into millimetres never waits behind a fit of seconds. In
// each, turns go round among those who ask (package turns).
const (
	calcQueue = 64               // who wait in a lane; a household has not so many phones (chosen)
	calcWait  = 20 * time.Second // for a turn; longer than anybody looks at a screen (chosen)
	calcTime  = 60 * time.Second // for the answer; a hundred times what a fit of 20,000 readings takes (measured)
	// crowdAgain is when to ask again.
	crowdAgain = 10 * time.Second
	// quickBytes is how much the input of a quick calculation may have to be
	// treated as one. A car with every table filled has less.
	quickBytes = 16 << 10
)

// quick are the calculations whose example took less than 3 ms on one core and
// whose work grows no faster than their input; all others took 5 ms to 1 s, or
// are new. A measured list and not a clock: the same calculation is in the same
// lane every time.
var quick = map[string]bool{
	"convert": true, "time.crank": true, "advance.whatif": true, "advance.budget": true,
	"marks.arc": true, "marks.teeth": true, "marks.piston": true, "marks.tdc": true, "marks.static": true,
	"marks.tape": true, "cap.plan": true, "scatter.analyse": true, "work.order": true,
	"card.link": true, "card.open": true, "card.page": true, "card.qr": true,
	"points.dwell": true, "points.shift": true, "points.learn": true, "points.judge": true,
	"coil.charge": true, "coil.break": true, "coil.sweep": true, "coil.polarity": true, "condenser.judge": true,
	"spark.breakdown": true, "spark.required": true, "supply.judge": true,
	"condition.list": true, "condition.judge": true, "faults.list": true,
	"combustion.weigh": true, "combustion.cycle": true, "combustion.burnscale": true, "combustion.travel": true,
	"knock.delay": true, "figures.read": true, "figures.write": true,
}

// lanes are where calculations wait their turn.
type lanes struct {
	quick, long *turns.Lane
	call        func(method string, in []byte) ([]byte, error)
}

// newLanes: long ones leave one processor to everything else where there are two.
func newLanes() lanes {
	processors := runtime.GOMAXPROCS(0)
	return lanes{turns.New(max(processors, 2), calcQueue), turns.New(max(processors-1, 1), calcQueue), calc.Call}
}

func (l lanes) of(method string, bytes int) *turns.Lane {
	if quick[method] && bytes <= quickBytes {
		return l.quick
	}
	return l.long
}

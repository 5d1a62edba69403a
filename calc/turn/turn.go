package turn

import (
	"errors"
	"fmt"

	"pointsmith/calc/clock"
	"pointsmith/calc/engine/cycle"
	"pointsmith/calc/refuse"
)

// Turn follows one cycle of a four-stroke, 720 crank degrees, at a speed, vacuum and base:
//
//	points open = spark = −(base + ratio × weights ± ratio × plate), then every 360 ratio / cylinders
//	closed for ratio × dwell before each opening;  a time t is 6 N t / 1000 crank degrees
//	rotor = (crank + base + ratio × weights) / ratio
//
// Crank degrees count from the top dead centre of No. 1 between compression and expansion, −360 to 360, before it
// negative. Every figure is another method's: speed time.crank; the weights advance.expect (middle of the printed
// band) or the governor of advance.whatif; the plate the line of vacuum.judge; current coil.charge; volts coil.break,
// the whole swing, as if no plug fired; the need spark.required; what is left at this speed coil.sweep; piston
// marks.piston; burning and pressure combustion.cycle, for the engine that combustion.best draws around. On the inlet
// stroke the pressure is that at which compression begins, on the exhaust stroke that of a free exhaust. Cylinders are
// taken to fire evenly. At most 500 angles, closer where points open and close and while the charge burns: of a swing
// that rings for long only the first tops and bottoms are followed.
//
// What is not given is never guessed in silence: what other methods take from common practice stands in assumed, and a
// part that hangs on a missing figure is left out, its lists empty, with the reason in leftOut. Refused: figures
// outside their limits or against each other, as the methods above; a drive ratio other than 1 or 2; a total timing
// beyond −60 or 90. Sources: arithmetic of the shafts; those of the methods above.
func Turn(in In) (Out, error) {
	r := &run{in: in}
	for _, step := range []func() *refuse.Error{r.begin, r.timing, r.piston, r.points, r.coil, r.burning} {
		if bad := step(); bad != nil {
			return Out{}, bad
		}
	}
	grid := r.grid()
	r.fill(grid)
	if bad := r.gas(grid); bad != nil {
		return Out{}, bad
	}
	r.events()
	r.words()
	return r.out, nil
}

// run is one cycle while it is worked.
type run struct {
	in    In
	out   Out
	ratio float64 // engine turns per distributor turn

	rodMm  float64  // 0 where there is no piston
	set    *set     // points; nil where they are left out
	swings *swings  // the coil; nil where it is left out
	fire   *burning // nil where burning is left out
}

// burning is what the engine's room says of it, ready for angles.
type burning struct {
	in                   cycle.CycleIn
	startKPa, exhaustKPa float64
	wiebe                cycle.Wiebe
	peakDeg              float64
}

func (r *run) begin() *refuse.Error {
	r.ratio = 2
	if d := r.in.DriveRatio; d != nil {
		r.ratio = *d
	}
	if r.ratio != 1 && r.ratio != 2 {
		return refuse.Input("driveRatio", fmt.Sprintf("%g turns of the engine for one of the distributor do not close in "+
			"the 720 crank degrees of a cycle", r.ratio), "2, or 1 where the lobes turn with the crankshaft",
			"give 1 or 2, or leave it out")
	}
	t, err := clock.Crank(clock.CrankIn{EngineRPM: r.in.EngineRPM})
	if err != nil {
		return under("", err)
	}
	r.out.RevMs, r.out.DegPerMs = t.RevMs, t.DegPerMs
	if v, air := r.in.VacuumKPa, r.in.Air.AmbientKPa(); v != nil && *v >= air {
		return refuse.Input("vacuumKPa", fmt.Sprintf("%.4g kPa is more than the air itself has there", *v),
			fmt.Sprintf("less than %.4g kPa, the pressure of the air", air), "check the gauge, its unit, and air.altitudeM")
	}
	return nil
}

// leave leaves a part out.
func (r *run) leave(what string, why *refuse.Error) {
	r.out.LeftOut = append(r.out.LeftOut, LeftOut{what, why.Field, why.Problem, why.Limit, why.Do})
}

// missing leaves a part out for a figure that was not given.
func (r *run) missing(what, field, limit, do string) {
	r.leave(what, refuse.Input(field, "is missing", limit, do))
}

func (r *run) assume(line string) { r.out.Assumed = append(r.out.Assumed, line) }

// under is a refusal made in another room, its field under a path.
func under(path string, err error) *refuse.Error {
	var bad *refuse.Error
	if errors.As(err, &bad) {
		return bad.Under(path)
	}
	return refuse.Input(path, err.Error(), "a figure that can be worked with", "check it")
}

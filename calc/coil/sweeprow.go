package coil

import (
	"errors"
	"fmt"

	"pointsmith/calc/points"
	"pointsmith/calc/refuse"
	"pointsmith/calc/spark"
)

// under puts a path before the field of a refusal made in another room.
func under(path string, err error) *refuse.Error {
	var bad *refuse.Error
	if errors.As(err, &bad) {
		return bad.Under(path)
	}
	return refuse.Input(path, err.Error(), "a figure that can be worked with", "check it")
}

// take gives a figure, or the usual one with a line that says so.
func (r *run) take(name, unit string, given *float64, otherwise float64, why string) float64 {
	if given != nil {
		return *given
	}
	r.out.Assumed = append(r.out.Assumed, fmt.Sprintf("%s not given: %g %s taken (%s)", name, otherwise, unit, why))
	return otherwise
}

// cylinder is the engine's, with the timing of that speed where one is given.
func (r *run) cylinder(rpm float64) spark.Cylinder {
	c, t := r.in.Engine.Cylinder, r.in.Engine.Timing
	if len(t) == 0 {
		return c
	}
	at := t[0].CrankDeg
	for i := 1; i < len(t) && rpm > t[i-1].EngineRPM; i++ {
		share := min(1, (rpm-t[i-1].EngineRPM)/(t[i].EngineRPM-t[i-1].EngineRPM))
		at = t[i-1].CrankDeg + share*(t[i].CrankDeg-t[i-1].CrankDeg)
	}
	c.SparkCrankDeg = &at
	return c
}

// charged is the coil's own part of a row.
func (r *run) charged(rpm, volts, ohm float64) (Row, *refuse.Error) {
	l := loop{volts, ohm, r.circuit.milliH / 1000}
	ms := points.ChargeMs(r.dwell, rpm, engineTurns(r.in.DriveRatio))
	row := Row{EngineRPM: rpm, ChargeMs: ms, CurrentA: l.current(ms / 1000)}
	row.EnergyMilliJ = 1000 * l.energy(row.CurrentA)
	best, leaky, bad := r.circuit.kilovolts(volts, ohm, row.CurrentA, r.leak)
	row.AvailableKV, row.AvailableLowKV = best, leaky
	return row, bad
}

// row is the spark at one speed from volts and the ohms of the loop.
func (r *run) row(rpm, volts, ohm float64, c spark.Cylinder) (Row, *refuse.Error) {
	row, bad := r.charged(rpm, volts, ohm)
	if bad != nil {
		return row, bad
	}
	low, good, high, err := spark.Need(spark.RequiredIn{GapMm: r.gap, Engine: &c, Polarity: r.in.Plug.Polarity})
	if err != nil {
		return row, needField(err)
	}
	row.RequiredKV, row.RequiredLowKV, row.RequiredGoodKV = high, low, good
	row.MarginKV, row.MarginLowKV = row.AvailableKV-high, row.AvailableLowKV-high
	return row, r.lose(&row, volts, ohm)
}

// lose takes the losses off a row and judges what is left.
func (r *run) lose(row *Row, volts, ohm float64) *refuse.Error {
	left, bad := r.real(volts, ohm, row.CurrentA, row.AvailableKV, row.AvailableLowKV)
	if bad != nil {
		return bad
	}
	row.RealLowKV, row.RealHighKV, row.DirtyLowKV, row.DirtyHighKV = left.low, left.high, left.dirtyLow, left.dirtyHigh
	row.RealMarginLowKV, row.RealMarginHighKV = left.low-row.RequiredKV, left.high-row.RequiredKV
	row.Verdict, row.DirtyPlug = rowVerdict(*row), "perhaps"
	switch {
	case left.dirtyLow >= row.RequiredKV:
		row.DirtyPlug = "enough"
	case left.dirtyHigh < row.RequiredKV:
		row.DirtyPlug = "short"
	}
	return nil
}

// needField turns the field of spark.Required into the one the sweep knows.
func needField(err error) *refuse.Error {
	bad := under("", err)
	if bad.Field == "gapMm" {
		bad.Field = "plug.gapMm"
	}
	return bad
}

func rowVerdict(row Row) string {
	switch {
	case row.RealMarginHighKV < 0:
		return "fail"
	case row.RealMarginLowKV < 0 || row.DirtyLowKV < row.RequiredGoodKV:
		return "watch"
	}
	return "pass"
}

// start works the cranking rows: through the ballast, and past it.
func (r *run) start() *refuse.Error {
	k := r.in.Cranking
	low := 9.6
	if r.sixVolt {
		low = 4.8
	}
	volts := r.take("cranking.batteryV", "V", k.BatteryV, low, "the least a sound battery gives, common practice")
	rpm := r.take("cranking.engineRPM", "rpm", k.EngineRPM, 150, "a guess")
	deg := r.take("cranking.crankDeg", "° before TDC", k.CrankDeg, 5, "a guess")
	cold := r.take("cranking.chargeC", "°C", k.ChargeC, 10, "a guess")
	fill := r.take("cranking.chargeKPa", "kPa", k.ChargeKPa, 80,
		"a guess: the inlet closes late; an 8:1 cylinder then shows a gauge about 10 bar")
	c := r.in.Engine.Cylinder
	c.SparkCrankDeg, c.ChargeC, c.ManifoldKPa = &deg, &cold, &fill
	ohms := map[bool]float64{false: r.loopOhm}
	if r.circuit.ballast > 0 {
		ohms[true] = r.circuit.total() - r.circuit.ballast
	}
	for _, bypass := range []bool{false, true} {
		ohm, asked := ohms[bypass]
		if !asked {
			continue
		}
		row, bad := r.row(rpm, volts, ohm, c)
		if bad != nil {
			return bad
		}
		r.out.Cranking = append(r.out.Cranking, CrankingRow{Row: row, BatteryV: volts, Bypass: bypass})
	}
	return r.measuredStart(rpm, func(volts, ohm float64) (Row, *refuse.Error) { return r.row(rpm, volts, ohm, c) })
}

// stalled is the heat with ignition on, engine stopped and points closed.
func (r *run) stalled() {
	amps := r.out.StoppedV / r.loopOhm
	r.out.MostA, r.out.StalledA, r.out.StalledWatts = r.in.SupplyV/r.loopOhm, amps, amps*r.out.StoppedV
	r.out.StalledCoilWatts, r.out.StalledBallastW = amps*amps*r.circuit.primary, amps*amps*r.circuit.ballast
}

package spark

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

const (
	uniformLeast = 0.01   // cm of gap at the density of free air; from memory
	uniformMost  = 25.0   // the same; Kamaraju & Naidu work it at 20 cm
	paschenMost  = 1000.0 // torr cm; from memory
	mostDensity  = 10     // times free air; from memory: measured sparks fall below both laws in denser gas
	spread       = 0.15   // published methods at 1 mm differ by this and more

	torrPerAtmosphere = 760
)

// gas is a gap in centimetres and the density of what is in it, against air
// at 101.3 kPa and 20 °C.
type gas struct{ cm, density float64 }

func density(kPa, celsius float64) float64 { return kPa / 101.3 * 293 / (273 + celsius) }

func (g gas) tooDense(field string) *refuse.Error {
	if g.density > mostDensity {
		return refuse.Input(field,
			fmt.Sprintf("the gas is %.3g times as dense as free air, where neither law is held", g.density),
			fmt.Sprintf("a density at most %d times that of free air", mostDensity),
			"check pressure (absolute, kPa) and temperature; at the spark the gas is compressed and hot")
	}
	return nil
}

func (g gas) uniformKV() float64 {
	x := g.density * g.cm
	return 24.22*x + 6.08*math.Sqrt(x)
}

func (g gas) offUniform(x float64) *refuse.Error {
	return refuse.Input("gapMm", fmt.Sprintf("density times gap is %.3g cm, where this law is not held", x),
		fmt.Sprintf("density times gap from %g to %g cm; here a gap from %.3g to %.3g mm", uniformLeast, uniformMost,
			10*uniformLeast/g.density, 10*uniformMost/g.density), "check gap and pressure, or use paschen")
}

// torrCm is pressure times gap, the pressure reduced to 20 °C.
func (g gas) torrCm() float64 { return g.density * 101.3 / 101.325 * torrPerAtmosphere * g.cm }

// constants are Townsend's A, B and the secondary emission of a cathode.
type constants struct{ a, b, gamma float64 }

func (k constants) emission() float64 { return math.Log1p(1 / k.gamma) }

func (k constants) volts(pd float64) float64 { return k.b * pd / math.Log(k.a*pd/k.emission()) }

func (k constants) least() (volts, pd float64) {
	pd = math.E / k.a * k.emission()
	return k.b * pd, pd
}

// airOnIron: A 11 and B 274 per pascal metre, iron cathode 0.02. E. Nasser,
// Fundamentals of Gaseous Ionization and Plasma Electronics, as tabled in
// public source.
var airOnIron = constants{11 * pascalMetre, 274 * pascalMetre, 0.02}

// pascalMetre takes a constant per pascal metre to one per torr centimetre.
const pascalMetre = 101325.0 / torrPerAtmosphere / 100

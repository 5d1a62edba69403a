package flame

import "math"

// Gasoline: D. B. Rhodes and J. C. Keck, SAE 850047, as given in two public
// sources that cite it; the last two are the diluent's, of the same paper.
const (
	richest   = 1.21 // mixture at which the flame is fastest
	fastest   = 30.5 // cm/s there, at 298 K and 1 atm
	fallsBy   = -54.9
	dilution  = 2.06
	dilutedBy = 0.77
)

// Laminar is the speed, in cm/s, of a flame in petrol and air at rest:
//
//	S = [30.5 − 54.9 (φ − 1.21)²] (T/298)^α (p/1 atm)^β (1 − 2.06 x^0.77)
//	α = 2.4 − 0.271 φ^3.51,  β = −0.357 + 0.14 φ^2.77
//
// phi is the mixture (over 1 rich), kelvin and atm those of the unburned gas,
// diluted the mole part x of burned gas. Fit to ±10 % from φ 0.8 to 1.5, 0.4 to
// 50 atm, 298 to 700 K (abstract of Metghalchi & Keck, Combustion and Flame 48,
// 191, for the form); outside φ 0.48 to 1.95, and from 39 % diluted, it is 0.
// Source: Rhodes & Keck, SAE 850047.
func Laminar(phi, kelvin, atm, diluted float64) float64 {
	still := fastest + fallsBy*(phi-richest)*(phi-richest)
	alpha := 2.4 - 0.271*math.Pow(phi, 3.51)
	beta := -0.357 + 0.14*math.Pow(phi, 2.77)
	left := 1 - dilution*math.Pow(max(diluted, 0), dilutedBy)
	return max(still, 0) * math.Pow(kelvin/298, alpha) * math.Pow(atm, beta) * max(left, 0)
}

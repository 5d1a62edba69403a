package engine

import "math"

// The uncertain inputs. Each is one figure z of standard normal spread in a draw.
const (
	zBurn = iota
	zDelay
	zHeat
	zCharge
	zResidual
	zFill
	zRatio
	zMixture
	zFuel
	zKnock
	inputs
)

// uncertain says of each input its name and what one standard deviation is. No
// measured spread was found for any but the flame's; they are chosen, by the
// reason given.
var uncertain = [inputs]struct {
	name string
	sd   float64
	why  string
}{
	zBurn:     {"how fast this chamber burns", 0.11, "flame speed is fitted to ±10 % (Metghalchi & Keck), shapes differ within one kind"},
	zDelay:    {"how fast the flame gets going", 0.15, "plug, gap and place in the chamber are not known"},
	zHeat:     {"heat lost to the walls", 0.20, "laws of heat loss differ by about this (from memory)"},
	zCharge:   {"temperature of the charge", 9, "kelvin; the manifold warms it by 10 to 40 (from memory)"},
	zResidual: {"burned gas left in the cylinder", 0.30, "valve overlap is known only as standard, mild or hot"},
	zFill:     {"filling of the cylinder", 0.04, "cam, ports and exhaust are not known"},
	zRatio:    {"compression ratio", 0.15, "deposits, gaskets and skimmed heads"},
	zMixture:  {"mixture", 0.05, "a carburettor keeps it no closer from cylinder to cylinder (common practice)"},
	zFuel:     {"octane of the fuel on the road", 1.3, "pump petrol lies above its number, and RON and MON count differently in each engine"},
	zKnock:    {"how readily this engine knocks", 0.22, "laws of knock hold to about 20 % in time; deposits and hot spots"},
}

// one is an engine that could be this one.
type one struct {
	z      [inputs]float64
	weight float64
}

// middle is the engine with every input at its middle.
var middle = one{weight: 1}

// draws gives n engines spread evenly over the inputs: the additive sequence of
// the generalised golden ratio, through the inverse of the normal law. The same
// every time. Source: H. Weyl's sequences with the root of x^(d+1) = x + 1 (from
// memory); evenness in the plane is tested.
func draws(n int) []one {
	g := 2.0
	for range 60 {
		g = math.Pow(1+g, 1.0/(inputs+1))
	}
	list := make([]one, n)
	for k := range list {
		list[k].weight = 1 / float64(n)
		step := 1.0
		for i := range inputs {
			step /= g
			_, u := math.Modf(0.5 + float64(k+1)*step)
			list[k].z[i] = normal(u)
		}
	}
	return list
}

// normal is the inverse of the standard normal law; phi the law itself.
func normal(u float64) float64 {
	return math.Sqrt2 * math.Erfinv(2*min(max(u, 1e-9), 1-1e-9)-1)
}

func phi(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// of gives what an input is in this draw: added, or as a factor.
func (o one) added(i int) float64  { return o.z[i] * uncertain[i].sd }
func (o one) factor(i int) float64 { return math.Exp(o.added(i)) }

package engine

import (
	"cmp"
	"math"
	"slices"
)

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
	zTrend
	zLocal
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
	zTrend:    {"how knock changes with speed", 0.25, "per doubling and a half of speed; the law leaves out how the charge is warmed and stirred at low speed"},
	zLocal:    {"how knock here differs from where it was heard", 0.07, "no law holds from one speed and load to another; a degree and a half, chosen"},
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
	level(list)
	return list
}

// several gives each draw n times over, at other places in the laws of readiness and
// trend, which need no cycle of their own.
func several(list []one, n int) []one {
	const apart = 0.6180339887498949 // of the trend's places: far from any simple ratio
	out := make([]one, 0, n*len(list))
	for _, o := range list {
		ready, trend, local := phi(o.z[zKnock]), phi(o.z[zTrend]), phi(o.z[zLocal])
		o.weight /= float64(n)
		for k := range n {
			_, u := math.Modf(ready + float64(k)/float64(n))
			_, v := math.Modf(trend + float64(k)*apart)
			_, w := math.Modf(local + float64(k)*apart*apart)
			o.z[zKnock], o.z[zTrend], o.z[zLocal] = normal(u), normal(v), normal(w)
			out = append(out, o)
		}
	}
	return out
}

// sameCycle: two draws differ in readiness and trend at most.
func sameCycle(a, b one) bool { return [zTrend]float64(a.z[:zTrend]) == [zTrend]float64(b.z[:zTrend]) }

// level makes few draws as even as they can be: it takes out of each input what goes
// with those before it (Gram and Schmidt's rule, column by column), then puts its
// values in their order onto the middles of n even parts of its law.
func level(list []one) {
	n := float64(len(list))
	for i := range inputs {
		for j := range i {
			both, own := 0.0, 0.0
			for _, o := range list {
				both += o.z[i] * o.z[j]
				own += o.z[j] * o.z[j]
			}
			for k := range list {
				list[k].z[i] -= both / own * list[k].z[j]
			}
		}
		order := make([]int, len(list))
		for k := range order {
			order[k] = k
		}
		slices.SortFunc(order, func(a, b int) int { return cmp.Compare(list[a].z[i], list[b].z[i]) })
		for place, k := range order {
			list[k].z[i] = normal((float64(place) + 0.5) / n)
		}
	}
}

// normal is the inverse of the standard normal law; phi the law itself.
func normal(u float64) float64 {
	return math.Sqrt2 * math.Erfinv(2*min(max(u, 1e-9), 1-1e-9)-1)
}

func phi(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

// of gives what an input is in this draw: added, or as a factor.
func (o one) added(i int) float64  { return o.z[i] * uncertain[i].sd }
func (o one) factor(i int) float64 { return math.Exp(o.added(i)) }

// knockMiddle is the logarithm of the knock integral at which a trace begins in the
// middle engine. At 0, where the law was fitted, engines would ask for more octane
// than they do: it is set so that 8.5:1 asks for the 94 RON of the table of B.
// Hamilton, Gasoline FAQ v1.12 (read in a repost), 3 degrees late of best (chosen).
const knockMiddle = 0.15

// stands is the logarithm of the knock integral this engine stands at a condition:
// its readiness, how that changes with speed either side of 2500 rpm (chosen), and
// what is its own so far from where knock was heard.
func (o one) stands(c condition) float64 {
	return knockMiddle + o.added(zKnock) + o.trend(c.rpm) + c.far*o.added(zLocal)
}

func (o one) trend(rpm float64) float64 { return o.added(zTrend) * math.Log(rpm/2500) }

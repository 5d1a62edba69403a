package engine

import "math"

// What the charge is, in numbers. “chosen” stands with its reason.
const (
	polytrope  = 1.32    // of compression and of the unburned gas; 1.3 to 1.35 (from memory)
	gasR       = 283.0   // J/kg K: air 287, petrol vapour and burned gas a little less (from memory)
	heatOfFuel = 44.0e6  // J/kg of petrol (from memory)
	airToFuel  = 14.6    // kg of air that burn one of petrol (Crossley & Cook's tables use it)
	burnsWell  = 0.95    // part of the heat set free at all (from memory: 0.93 to 0.97)
	warmedK    = 25.0    // by manifold and valves, less what the petrol takes to evaporate (chosen)
	leftK      = 1000.0  // temperature of the gas left behind (from memory: 900 to 1200)
	wallK      = 420.0   // of head, piston and liner together (from memory: 400 to 450)
	backFlow   = 1.03    // exhaust pressure over the air's (chosen: a free exhaust)
	fillAtRest = 0.97    // pressure at the start of compression over the manifold's, slow (chosen)
	fillLoss   = 0.00035 // less of it for each (m/s)² of the piston (chosen: 0.08 at 15 m/s)
)

// overlapShare is burned gas drawn back at deep vacuum through the overlap of the
// valves, at 1000 rpm. Chosen: a hot cam idles at 20 % and more of burned gas.
var overlapShare = map[string]float64{"": 0.06, "standard": 0.06, "mild": 0.10, "hot": 0.16}

// condition is one state of running.
type condition struct {
	rpm, load       float64
	ambientKPa, air float64 // kPa, kelvin
	octane, mixture float64 // mixture 0: not said
	far             float64 // 0 where knock was heard, 1 far from it or where none was
}

func conditionOf(rpm, load float64, f Fuel, a Air) condition {
	return condition{rpm: rpm, load: load, ambientKPa: a.kPa(), air: a.kelvin(), octane: f.road(),
		mixture: or(f.Mixture, 0)}
}

// Away from a knock that was heard by a third of the speed, or by three tenths of the
// load, another tells as much as none (chosen).
const farSpeed, farLoad = 0.35, 0.3

// away is the condition with its distance from the nearest knock that was heard.
func (c condition) away(heard []listened) condition {
	c.far = 1
	for _, l := range heard {
		if l.heard {
			c.far = min(c.far, math.Abs(math.Log(c.rpm/l.rpm))/farSpeed+math.Abs(c.load-l.load)/farLoad)
		}
	}
	return c
}

// richness is the mixture: as said, else even at part throttle and rich at
// full, going over between two thirds and nine tenths of load (common practice).
func (c condition) richness() float64 {
	if c.mixture > 0 {
		return c.mixture
	}
	return 1 + 0.12*min(1, max(0, (c.load-0.65)/0.25))
}

// body is the engine's part that stays the same over draws and conditions.
type body struct {
	engine       Engine
	bore, stroke float64 // metres
	rod          float64 // over crank radius
	shape        chamber
	grid         *grid
}

// charge is what is in the cylinder when compression begins.
type charge struct {
	kPa, kelvin, left float64 // left: part that is burned gas
	heat              float64 // over p1 V1
	ratio             float64 // compression
	phi               float64
}

// charge fills the cylinder of one draw:
//
//	p1 = manifold × (0.97 − 0.00035 Up²)
//	left = (pe/p1)(T1/Tr)/r + overlap (1 − pm/pe) √(1000/N)
//	T1 = (1 − left)(air + warmed) + left × Tr
//
// Source: a balance of mass and heat; its figures are above.
func (b body) charge(c condition, o one) charge {
	in := charge{ratio: b.engine.CompressionRatio + o.added(zRatio), phi: c.richness() + o.added(zMixture)}
	manifold := c.load * c.ambientKPa
	speed := 2 * b.stroke * c.rpm / 60
	in.kPa = manifold * max(0.5, fillAtRest-fillLoss*speed*speed) * (1 + o.added(zFill))
	fresh := c.air + warmedK + o.added(zCharge)
	exhaust := backFlow * c.ambientKPa
	overlap := overlapShare[b.engine.Cam] * max(0, 1-manifold/exhaust) * math.Sqrt(1000/c.rpm)
	in.kelvin = fresh
	for range 3 { // T1 and what is left hang on one another; settled to 0.1 K after two
		in.left = min(0.4, (exhaust/in.kPa*in.kelvin/leftK/in.ratio+overlap)*o.factor(zResidual))
		in.kelvin = (1-in.left)*fresh + in.left*leftK
	}
	air := (1 - in.left) / (1 + in.phi/airToFuel)
	in.heat = air * heatOfFuel / airToFuel * min(in.phi, 1) * burnsWell / (gasR * in.kelvin)
	return in
}

// at gives pressure (atm) and temperature (K) of the charge squeezed to volume v.
func (in charge) at(v float64) (atm, kelvin float64) {
	squeeze := math.Pow(v, -polytrope)
	return in.kPa / 101.325 * squeeze, in.kelvin * squeeze * v
}

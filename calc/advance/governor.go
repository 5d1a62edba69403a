package advance

import (
	"math"

	"pointsmith/calc/advance/infer"
)

// Model is a two-spring flyweight governor. The pull of the weights grows
// with speed squared and with their distance from the shaft; the springs hold
// against it:
//
//	U (1 + g a) = U0 + k1 a + k2 max(0, a − aK)      U = (distributor rpm / 1000)²
//
// a is the advance in distributor degrees; U0 the preload (the start speed
// squared); k1 the primary rate; k2 what the secondary adds once its slack aK
// is taken up; g how much the pull grows per degree as the weights swing out.
// Rates are in (1000 distributor rpm)² per distributor degree: spring force
// divided by the weights' mass and radius, which a curve cannot tell apart.
// Dry friction is f k1: it holds the weights in as speed rises and out as it
// falls, so on the primary rising readings lag by f and falling ones lead by f,
// less where both springs pull, and nothing at the stops.
//
// Source: balance of m ω² r against a spring, as in any theory of machines
// (check: Bevan ch 13 Ex 3 and 5; Sarkar ch 7 illus. 7 and 8).
type Model struct {
	StartDistRPM    float64 `json:"startDistRPM" need:"yes" over:"0" max:"6000" unit:"distributor rpm" help:"speed at which the weights begin to move"`
	PrimaryRate     float64 `json:"primaryRate" need:"yes" over:"0" max:"100" unit:"(1000 distributor rpm)² per distributor degree" help:"rate of the primary spring"`
	SecondaryRate   float64 `json:"secondaryRate" min:"0" max:"100" unit:"(1000 distributor rpm)² per distributor degree" help:"rate the secondary spring adds once it takes up"`
	KneeDistDeg     float64 `json:"kneeDistDeg" min:"0" max:"40" unit:"distributor degrees" help:"slack of the secondary spring: the advance at which it takes up"`
	LimitDistDeg    float64 `json:"limitDistDeg" need:"yes" over:"0" max:"40" unit:"distributor degrees" help:"where the stop ends the advance"`
	FrictionDistDeg float64 `json:"frictionDistDeg" min:"0" max:"10" unit:"distributor degrees" help:"how far rising lags below and falling above; half of falling less rising"`
	WeightGrowth    float64 `json:"weightGrowth" min:"-0.05" max:"0.2" unit:"per distributor degree" help:"how much the weights' pull grows per degree as they swing out; with limitDistDeg, 1 + weightGrowth × limitDistDeg at least 0.01"`
}

// speedSquared is U, the measure of the weights' pull at rest.
func speedSquared(distRPM float64) float64 { return distRPM * distRPM / 1e6 }

// springForce is what the springs hold against at advance a.
func (m Model) springForce(a float64) float64 {
	return speedSquared(m.StartDistRPM) + m.PrimaryRate*a + m.SecondaryRate*math.Max(0, a-m.KneeDistDeg)
}

// speedAt is the distributor rpm that holds the weights at advance a.
func (m Model) speedAt(a float64) float64 {
	return 1000 * math.Sqrt(math.Max(0, m.springForce(a)/(1+m.WeightGrowth*a)))
}

// at is the frictionless advance at a distributor speed, distributor degrees.
// Where the pull grows faster than the springs can follow, the weights fly on
// to where the next spring, or the stop, holds them.
func (m Model) at(distRPM float64) float64 {
	u, u0 := speedSquared(distRPM), speedSquared(m.StartDistRPM)
	if u <= u0 {
		return 0
	}
	a := held(u-u0, m.PrimaryRate-m.WeightGrowth*u)
	if a > m.KneeDistDeg {
		a = held(u-u0+m.SecondaryRate*m.KneeDistDeg, m.PrimaryRate+m.SecondaryRate-m.WeightGrowth*u)
	}
	return math.Min(a, m.LimitDistDeg)
}

func held(pull, rate float64) float64 {
	if rate <= 0 {
		return math.Inf(1)
	}
	return pull / rate
}

// reads is what rising or falling readings show: friction shifts the curve, and
// the stops at both ends hold it, so at rest and at the limit it does not show.
func (m Model) reads(distRPM float64, falling bool) float64 {
	return m.springs().Reads(distRPM, falling)
}

// springs is the governor as package infer reckons with it.
func (m Model) springs() infer.Governor {
	return infer.Governor{U0: speedSquared(m.StartDistRPM), K1: m.PrimaryRate, K2: m.SecondaryRate, Knee: m.KneeDistDeg,
		Limit:  m.LimitDistDeg,
		Growth: m.WeightGrowth, Drag: m.FrictionDistDeg * m.PrimaryRate}
}

// modelOf is a governor of package infer as it is answered.
func modelOf(g infer.Governor) Model {
	return Model{StartDistRPM: 1000 * math.Sqrt(g.U0), PrimaryRate: g.K1, SecondaryRate: g.K2, KneeDistDeg: g.Knee,
		LimitDistDeg:    g.Limit,
		FrictionDistDeg: g.Drag / math.Max(g.K1, 1e-9), WeightGrowth: g.Growth}
}

// CurvePoint is one point of a governor's curve.
type CurvePoint struct {
	DistRPM float64 `json:"distRPM" unit:"distributor rpm" help:"speed"`
	DistDeg float64 `json:"distDeg" unit:"distributor degrees" help:"frictionless advance"`
}

// curve draws the model up to a speed: its corners and even steps between.
func (m Model) curve(topRPM float64) []CurvePoint {
	const steps = 40 // enough for a phone's width
	knee, limit := m.kneeRPM(), m.limitRPM()
	speeds := []float64{}
	for i := range steps + 1 {
		speeds = append(speeds, topRPM*float64(i)/steps)
	}
	for _, corner := range []float64{m.StartDistRPM, knee, limit} {
		if corner > 0 && corner < topRPM {
			speeds = append(speeds, corner)
		}
	}
	return m.through(speeds)
}

func (m Model) kneeRPM() float64  { return m.speedAt(math.Min(m.KneeDistDeg, m.LimitDistDeg)) }
func (m Model) limitRPM() float64 { return m.speedAt(m.LimitDistDeg) }

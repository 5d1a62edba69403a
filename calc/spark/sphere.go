package spark

import (
	"fmt"
	"math"

	"pointsmith/calc/refuse"
)

const (
	// kV/cm at δ = 1: F. W. Peek, Dielectric Phenomena in High Voltage Engineering, as quoted in public source
	sphereGradient = 27.2
	sphereCurve    = 0.54 // √cm: the same; what a ball's curve adds to the strength of the air at it
	sphereWidest   = 2.0  // gaps over radius to which Peek holds his law; from memory
	sphereSpread   = 0.05 // 3 % of the published tables and 2 % of this law against them (chosen)
)

// sphereDensity is Peek's δ, 1 at 76 cm of mercury and 25 °C: 3.92 b/(273 + t).
func sphereDensity(kPa, celsius float64) float64 {
	return 3.92 * kPa / 101.325 * torrPerAtmosphere / 10 / (273 + celsius)
}

// fieldFactor is the gradient at a sphere, where the other one faces it, over
// the mean gradient of the gap, for two equal spheres far from anything else:
// at opposite volts, or with one of them at earth. x is the gap in radii. By
// images: a charge q at d from the centre of an earthed ball of radius 1 calls
// up −q/d at 1/d from that centre, and so on to and fro, ever smaller.
func fieldFactor(x float64, earthed bool) float64 {
	between := 2 + x
	live, other := 0.0, 0.0 // gradients that each ball's charges make at the live one, at the other
	q, at := 1.0, 0.0       // a charge in the live ball; the ball then stands at 1 volt
	for range 10_000 {
		live += q / ((1 - at) * (1 - at))
		other += q / ((between - 1 - at) * (between - 1 - at))
		d := between - at
		q, at = -q/d, 1/d // its image in the other ball, from that ball's centre
		live -= q / ((between - 1 - at) * (between - 1 - at))
		other -= q / ((1 - at) * (1 - at))
		d = between - at
		q, at = -q/d, 1/d
		if math.Abs(q) < 1e-12 {
			break
		}
	}
	if earthed {
		return x * live
	}
	return x * (live + other) / 2
}

func (out *BreakdownOut) sphere(in BreakdownIn, g gas) *refuse.Error {
	if in.SphereDiameterMm == nil {
		return refuse.Input("sphereDiameterMm", "the sphere law needs the size of the balls",
			"more than 0, at most 2000 mm", "give the diameter of one of the two equal balls")
	}
	radius := *in.SphereDiameterMm / 20
	if g.cm > sphereWidest*radius {
		return refuse.Input("gapMm",
			fmt.Sprintf("the gap is %.3g times the radius of the balls, where this law is not held", g.cm/radius),
			fmt.Sprintf("a gap of at most %.4g mm between balls of %.4g mm", 10*sphereWidest*radius,
				*in.SphereDiameterMm),
			"take larger balls or a narrower gap; a wide gap between small balls glows before it sparks")
	}
	if x := g.density * g.cm; x < uniformLeast || x > uniformMost {
		return g.offUniform(x)
	}
	d := sphereDensity(in.PressureKPa, or(in.TemperatureC, 20))
	earthed := in.OneEarthed != nil && *in.OneEarthed
	gradient, factor := sphereGradient*d*(1+sphereCurve/math.Sqrt(d*radius)), fieldFactor(g.cm/radius, earthed)
	peek, least := gradient*g.cm/factor, sphereCurve*math.Sqrt(radius/d)
	out.KV, out.Held = peek, fmt.Sprintf("inside Peek's range for these balls, %.3g to %.3g mm", 10*least, 20*radius)
	out.Working = append(out.Working,
		fmt.Sprintf("Density by Peek, against 76 cm of mercury and 25 °C: %.4g. Strength at the ball: 27.2 × %.4g × (1 + 0.54/√(%.4g × %.4g cm)) = %.4g kV/cm.", d, d, d, radius, gradient),
		fmt.Sprintf("The field at the ball is %.4g times the mean of the gap: %.4g × %.4g cm / %.4g = %.4g kV.", factor,
			gradient, g.cm, factor, peek))
	if g.cm < least {
		out.KV = math.Max(peek, g.uniformKV())
		out.Held = fmt.Sprintf("below Peek's range, which begins at %.3g mm for these balls: air is stronger over so short a way than either law says, so the greater of the two is taken, and the true figure may be a little more", 10*least)
		out.Working = append(out.Working, fmt.Sprintf("The uniform law gives %.4g kV; the greater of the two: %.4g kV.",
			g.uniformKV(), out.KV))
	}
	out.Sources = []string{"27.2 δ (1 + 0.54/√(δR)) kV/cm, δ = 3.92 b/(273 + t): F. W. Peek, Dielectric Phenomena in High Voltage Engineering, as quoted in public source",
		"field at the ball: method of images, computed", "ends of its range, 0.54√R to 2R: from memory",
		"±5 %: 3 % of the published tables of sphere gaps and 2 % of this law against them"}
	return nil
}

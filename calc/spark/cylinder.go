package spark

import (
	"fmt"
	"math"
)

func or(x *float64, otherwise float64) float64 {
	if x == nil {
		return otherwise
	}
	return *x
}

func (c Cylinder) ratio() float64    { return or(c.CompressionRatio, 8) }
func (c Cylinder) manifold() float64 { return or(c.ManifoldKPa, 100) }
func (c Cylinder) charge() float64   { return or(c.ChargeC, 60) }
func (c Cylinder) degrees() float64  { return or(c.SparkCrankDeg, 25) }
func (c Cylinder) exponent() float64 { return or(c.Exponent, 1.3) }

// squeezed is the volume at the start of compression over that at the spark,
// for a long connecting rod.
func (c Cylinder) squeezed() float64 {
	r := c.ratio()
	return r / (1 + (r-1)/2*(1-math.Cos(c.degrees()*math.Pi/180)))
}

// AtSpark gives pressure (kPa absolute) and temperature (Celsius) when the
// spark comes, by polytropic compression from the start of the stroke.
func (c Cylinder) AtSpark() (kPa, celsius float64) {
	x := c.squeezed()
	return c.manifold() * math.Pow(x, c.exponent()), (c.charge()+273.15)*math.Pow(x, c.exponent()-1) - 273.15
}

// Assumed lists what was not given, each with what is taken instead.
func (c Cylinder) Assumed(path string) []string {
	lines := []string{}
	for _, f := range []struct {
		name  string
		given *float64
		taken float64
		why   string
	}{
		{"compressionRatio", c.CompressionRatio, c.ratio(), "common practice for the period"},
		{"manifoldKPa", c.ManifoldKPa, c.manifold(), "full throttle at sea level, where a plug asks for most"},
		{"chargeC", c.ChargeC, c.charge(), "a guess"},
		{"sparkCrankDeg", c.SparkCrankDeg, c.degrees(), "a guess"},
		{"exponent", c.Exponent, c.exponent(), "common practice"},
	} {
		if f.given == nil {
			lines = append(lines, fmt.Sprintf("%s%s not given: %g taken (%s)", path, f.name, f.taken, f.why))
		}
	}
	return lines
}

func (c Cylinder) working(kPa, celsius float64) string {
	return fmt.Sprintf("At %.3g° before TDC the charge is squeezed %.3g times (of %.3g): %.4g kPa × %.3g^%.3g = %.4g kPa, and it is %.0f °C.",
		c.degrees(), c.squeezed(), c.ratio(), c.manifold(), c.squeezed(), c.exponent(), kPa, celsius)
}

package paper

import "math"

// The figure in its own units: as wide as a phone has pixels.
const (
	figureWidth  = 360.0
	figureHeight = 250.0
	plotLeft     = 34.0  // room for the figures of the upright axis
	plotRight    = 340.0 // half a speed’s figure stands beyond it
	plotTop      = 8.0
	plotBottom   = 214.0 // beneath stand the speeds and what they are
	mostSteps    = 8     // lines across on one axis: chosen, so that their figures do not touch
)

// axis runs from a round figure to another one.
type axis struct{ from, to, step float64 }

// axisOf holds all figures from low to high in at most mostSteps round steps.
func axisOf(low, high float64, steps ...float64) axis {
	for _, step := range steps {
		a := axis{math.Floor(low/step) * step, math.Ceil(high/step) * step, step}
		if a.to == a.from {
			a.to += step
		}
		if (a.to-a.from)/step <= mostSteps {
			return a
		}
	}
	last := steps[len(steps)-1]
	return axis{math.Floor(low/last) * last, math.Ceil(high/last) * last, last}
}

// marks are the figures at the lines.
func (a axis) marks() []float64 {
	var out []float64
	for i := 0; a.from+float64(i)*a.step <= a.to; i++ {
		out = append(out, a.from+float64(i)*a.step)
	}
	return out
}

// frame places figures on the drawing.
type frame struct{ speed, angle axis }

// frameOf makes the axes for a plot; speeds begin at 0.
func frameOf(p plot) frame {
	fastest, low, high := 0.0, 0.0, 0.0
	for _, one := range p.all() {
		fastest = max(fastest, one.engineRPM)
		low, high = min(low, one.crankDeg), max(high, one.crankDeg)
	}
	return frame{axisOf(0, fastest, 250, 500, 1000, 2000, 4000, 8000), axisOf(low, high, 2, 5, 10, 20, 50)}
}

func (f frame) x(engineRPM float64) float64 {
	return plotLeft + (engineRPM-f.speed.from)/(f.speed.to-f.speed.from)*(plotRight-plotLeft)
}

func (f frame) y(crankDeg float64) float64 {
	return plotBottom - (crankDeg-f.angle.from)/(f.angle.to-f.angle.from)*(plotBottom-plotTop)
}

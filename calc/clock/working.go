package clock

import "fmt"

func crankWorking(engineRPM float64, out CrankOut) []string {
	return []string{
		fmt.Sprintf("One crank turn takes 60 000 / engine rpm: 60 000 / %.6g = %.4g ms.", engineRPM, out.RevMs),
		fmt.Sprintf("In one millisecond the crank turns 6 × engine rpm / 1000: 6 × %.6g / 1000 = %.4g degrees.",
			engineRPM, out.DegPerMs),
		fmt.Sprintf("%.4g ms is %.4g × %.4g = %.4g crank degrees.", out.Ms, out.Ms, out.DegPerMs, out.CrankDeg),
	}
}

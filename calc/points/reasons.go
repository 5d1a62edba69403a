package points

// The candidates for a disagreement of gap and dwell, in the order of common
// practice. Those that can only make the true gap wider than the feeler says
// (less dwell) or only narrower (more dwell) stand first on their side.
var (
	pitted = Reason{"pitted-faces", "pitted faces: the feeler measures from peak to peak and the true gap is wider",
		"a dial gauge on the arm, or the faces dressed flat and the gap taken again"}
	offPeak = Reason{"off-peak", "the gap was taken off the peak of the lobe, and is wider at the peak",
		"turn the engine a little either way and find the widest gap"}
	bent = Reason{"feeler", "an oily or bent feeler, or two blades where one was meant",
		"the same gap with a clean single blade"}
	meter = Reason{"meter", "the meter: wrong scale, low battery in it, a poor clip",
		"the meter on another car, or its zero and its closed reading with the points blocked"}
	cam = Reason{"cam", "a worn lobe or the wrong cam: its shoulders no longer open where they should",
		"dwell lobe by lobe on a bench, or the gap at every lobe"}
	heel = Reason{"heel", "a worn heel, or one that does not ride square on the middle of the cam",
		"the bright mark on the heel: even and central when right"}
	shaft = Reason{"shaft", "shaft wear: the gap depends on which way the shaft is pushed",
		"gap with the shaft pushed to either side: more than 0.003 in of change is wear"}
	wrongSet = Reason{"wrong-points", "the wrong points for this distributor: pivot height or heel position",
		"the set laid beside the old one"}
)

func reasonsFor(lessDwell bool, state string) []Reason {
	if lessDwell && state == "new" {
		return []Reason{offPeak, wrongSet, cam, heel, shaft, meter, bent}
	}
	if lessDwell {
		return []Reason{pitted, offPeak, cam, heel, shaft, wrongSet, meter}
	}
	return []Reason{bent, meter, cam, wrongSet, heel, shaft}
}

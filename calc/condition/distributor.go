package condition

// Cautions that stand before several checks.
const (
	fanCaution    = "Fan, belts and pulleys look still under a strobe and are not; an electric fan may start by itself. Sleeves, ties, rings and leads out of the way."
	tensionFear   = "High tension throws the hand into the fan. Dry, insulated pliers, one lead at a time, nothing metal in the other hand; whoever wears a pacemaker leaves this to others."
	stillOn       = "Ignition on with the engine still: one or two minutes at most, then off; coil and ballast get hot enough to burn."
	turning       = "Ignition feed off, plugs out, neutral, handbrake on, wheels chocked before the engine is turned by hand."
	running       = "Engine running: doors open or exhaust led outside, carbon monoxide kills; neutral, handbrake, clear of fan and belts."
	crankingFear  = "Neutral, handbrake on, coil feed off unless the check wants it, clear of fan and belts before cranking."
	practice      = "common practice"
	memory        = "from memory"
	makersFigures = "the maker's figure counts"
)

var distributorChecks = []Check{
	{"B1", "Shaft side play, on the bench", "distributor", "bench", "Distributor in soft jaws, dial gauge on the top of the cam. Pull half a pound one way, then the other, on a loop of wire; add the two movements.", "",
		"Scatter, dwell that wanders, a rotor that hits the cap or cracks. Bush before anything is set.",
		[]Measure{figure("B1", "side play, both ways added", "in", most(0.003, 0.006, "0.003 in common practice, 0.006 in a US club's page on bush wear; method: US Army TM 5-4210-230-14&P-1, p. 554"), "")}},
	{"B2", "Shaft side play, on the car", "distributor", "car", "Measure the gap with the shaft pushed to one side by a thumb or a wedge, then to the other; the change counts.", turning,
		"As on the bench: bush before anything is set. A really worn one changed by 0.018 in.",
		[]Measure{figure("B2", "change of gap", "in", most(0.003, 0.006, "0.002 to 0.003 in: a UK club's article on bush wear; 0.006 in: a US club's page, by analogy"), "")}},
	{"B3", "Shaft end float", "distributor", "bench", "Lift and press the shaft with a feeler under the gear or dog.", "",
		"The timing walks, because a skew gear turns as it moves up and down.",
		[]Measure{figure("B3", "end float", "in", most(0.035, 0.040, "0.024 to 0.035 in a US maker's gear fitting note on a forum; 0.040 in quoted for one UK unit in a club's article"), "")}},
	{"B4", "Float and backlash of the drive gear", "distributor", "car", "Feeler under the pedestal; rock the rotor against the gears with the engine still.", turning,
		"Several degrees of jitter under the strobe; no vernier cures it.",
		[]Measure{figure("B4", "end float of the gear", "in", between(0.002, 0.003, 0.007, 0.010, "0.003 to 0.007 in on one UK engine: a 1960s UK maker's workshop manual quoted on an owners' forum; watch: a guess"), "")}},
	{"B5", "Rotor springs back", "distributor", "either", "Points held open, twist the rotor in its running direction and let go. Do not take slack of the drive for advance.", "",
		"Seized weights, a dry cam sleeve or a lost spring. Clean and oil first: one drop under the rotor cures most.",
		[]Measure{look("B5", "return of the rotor", "returns fully and briskly (UK monthly magazine's reader letters; US Army TM 10-3930-644-14&P)")}},
	{"B6", "Travel to the stop", "distributor", "either", "Twist the rotor to the stop and compare with the number on the limit plate, in distributor degrees.", "",
		"A wrong plate, a worn slot or a missing bush: too much or too little at the top.",
		[]Measure{figure("B6", "travel less the number on the plate", "distributor degrees", between(-2, -1, 1, 2, "within a degree: a guess; the plate's own number counts"), "")}},
	{"B7", "Weights, pivots, springs, posts", "distributor", "bench", "Look for grooves in hooks and posts, long holes, rust. The heavy spring takes up at about a third of the travel on one usual four-cylinder kind.", "",
		"Too much advance too early: it knocks low down and is flat at the top.",
		[]Measure{look("B7", "wear of weights and springs", "no grooves, round holes, springs whole (a New Zealand specialist's article on wear)")}},
	{"B8", "Faces of the points", "distributor", "either", "Grey and matt is good. Blue or black is burnt. Look for an oily smear, a pit and a mound.", "Ignition off before touching them.",
		"The feeler reads false, and resistance weakens the spark. Replace them.",
		[]Measure{figure("B8.mound", "height of the mound", "in", most(0.010, 0.020, "0.020 in from memory; watch from half of it: a guess"), ""), look("B8", "faces", "grey, matt and clean")}},
	{"B9", "Alignment of the points", "distributor", "bench", "Watch the small arc at 1000 distributor rpm: it belongs in the middle of the faces. Bend the fixed bracket only.", "Rotating chuck: no gloves, distributor clamped, guard on.",
		"They burn in one spot and soon.",
		[]Measure{look("B9", "contact of the faces", "full-face contact, arc in the middle (US Army TM 9-4910-622-14&P, p. 15)")}},
	{"B10", "Spring of the points", "distributor", "either", "Spring scale at the contact, square to the faces; read as they part. Repeat until two agree within 2 oz.", "Ignition off.",
		"Weak: they bounce at speed. Strong: heel and cam wear.",
		[]Measure{figure("B10", "pull as they part", "oz", between(15, 17, 24, 27, "17 to 20 oz: a mid-1950s US maker's service manual; 18 to 24 oz for UK units from memory; watch: a guess"), "")}},
	{"B11", "Resistance of the points", "distributor", "car", "Points closed, ignition on: voltmeter from the distributor's terminal to the battery's earth post.", stillOn,
		"A weak spark, and the coil gets the blame. Clean or replace the points; look at the inner lead.",
		[]Measure{figure("B11", "volts lost", "V", most(0.1, 0.2, "0.1 V: US Navy NAVEDTRA 14329, fig 6-48 view C, and a maker's workshop manual; 0.2 V common practice"), "")}},
	{"B12", "Earth of the body", "distributor", "car", "As for the resistance of the points, the lead moved to the distributor's body.", stillOn,
		"Oil or paint under the clamp insulates the body.",
		[]Measure{figure("B12", "volts lost", "V", most(0.05, 0.1, "0.05 V common practice; watch to 0.1 V: a guess"), "")}},
	{"B13", "Inner lead and plate earth", "distributor", "either", "Tug and flex each while watching dwell or ohms; strands break inside whole insulation.", "Keep hands clear of the cam if it turns.",
		"It cuts out when vacuum moves the plate.",
		[]Measure{look("B13", "reading while flexed", "steady (US Army TM 9-4910-622-14&P)")}},
	{"B14", "Plate under vacuum", "distributor", "either", "Draw 0 to 20 inHg on the capsule at one speed and watch the dwell.", running,
		"Timing and dwell vary with load. On a side-pivot plate the dwell changes by design, and no limit is published.",
		[]Measure{figure("B14", "change of dwell, centre-pivot plate", "distributor degrees", most(2, 3, "2 degrees: US Army TM 9-4910-622-14&P, p. 18, centre-pivot plates only; watch to 3: a guess"), "")}},
}

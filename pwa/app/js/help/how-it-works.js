// What is worth explaining to somebody who looks on: how the spark is made and
// why it comes when it does. Figures are those of the calculations named
// beside them (cmd/internal/e2e/help_test.go holds them together); the rest is
// physics of the schoolbook, or common practice where it says so.

/** @type {readonly {title: string, text: string}[]} */
export const howItWorks = [
	{
		title: "The spark comes as the points open.",
		text: "They are a switch, and a cam works it. While they are closed, current builds up a field in the coil; when they part, the field collapses and that makes the spark. Nothing sparks as they close.",
	},
	{
		title: "The coil needs time to charge.",
		text: "Four cylinders with 60° of dwell close the points for 4.0 ms at 5000 rpm; eight with 30° for 3.3 ms at 3000. The faster, the shorter, and the weaker the spark.",
	}, // points.dwell
	{
		title: "The condenser makes the break a clean one.",
		text: "Without it the current goes on as an arc between the points, the field falls slowly, and hardly a spark is left. It also spares the points.",
	},
	{
		title: "The plug decides the voltage.",
		text: "It rises until the gap fires and no further. The coil only sets how far it could rise. What lies between is the reserve, and a tired ignition runs well until the reserve is gone.",
	},
	{
		title: "A weak spark shows under load.",
		text: "What the plug needs grows with its gap and with the pressure at the moment of the spark: little at tickover, most with the throttle wide open at low speed.",
	},
	{
		title: "Gap and dwell are one thing, measured in two ways.",
		text: "A wider gap is less dwell. Three degrees more dwell is three crank degrees later on a cam with even lobes: so the points are set before the timing, and never after it.",
	}, // points.shift
	{
		title: "Burning takes time, and the engine does not wait.",
		text: "Some 2 to 3 ms from spark to the best pressure (common practice). That is 9 to 13.5 crank degrees at 750 rpm and 36 to 54 at 3000, if nothing else changed; the charge swirls faster at speed, so engines want less than that, but at wide throttle still more the faster they turn.",
	}, // time.crank
	{
		title: "The weights feel the square of the speed.",
		text: "Twice the speed is four times the pull. A light spring holds them first, a heavier one joins in, a stop ends it. These three make the curve.",
	},
	{
		title: "The distributor turns half as fast.",
		text: "Ten degrees at 1000 rpm of the distributor are twenty at 2000 of the engine. Doubled once too often, or forgotten, it is the classic mistake with a table.",
	},
	{
		title: "The vacuum is for part throttle.",
		text: "A thin charge burns slowly, so the capsule adds advance there and gives it back as the throttle opens. It saves petrol and heat and adds nothing at full throttle (common practice).",
	},
	{
		title: "The body moves every speed alike.",
		text: "Springs, posts and stop bend the curve; turning the body only lifts or lowers the whole of it. A right figure at tickover can hide a wrong base under a wrong curve.",
	},
	{
		title: "Too late feels like a bad carburettor.",
		text: "It pulls best when the pressure is highest some 12 to 18° after TDC (common practice). Later, it is dull, thirsty and hot. Earlier, it knocks, and that breaks pistons. So the ignition is proved first and the carburettor comes last.",
	},
];

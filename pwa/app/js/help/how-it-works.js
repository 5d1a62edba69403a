// What is worth explaining to somebody who looks on: how the spark is made and
// why it comes when it does. Figures are those of the calculations named
// beside them (cmd/internal/e2e/help_test.go holds them together); the rest is
// physics of the schoolbook, or common practice where it says so.

/** @type {readonly {title: string, text: string}[]} */
export const howItWorks = [
	{
		title: "The spark comes as the points open.",
		text: "They are a switch, worked by a cam. While they are closed, current builds up a field in the coil. When they open, the field collapses. That makes the spark. Nothing sparks as they close.",
	},
	{
		title: "The coil needs time to charge.",
		text: "Four cylinders with 60° of dwell close the points for 4.0 ms at 5000 rpm; eight with 30° for 3.3 ms at 3000. The faster the engine, the shorter the time and the weaker the spark.",
	}, // points.dwell
	{
		title: "The condenser makes the break a clean one.",
		text: "Without it the current goes on as an arc between the points. The field falls slowly, and hardly any spark is left. The condenser also saves the points.",
	},
	{
		title: "The plug decides the voltage.",
		text: "It rises until the gap fires, and no further. The coil only sets how far it could rise. Between the two is the reserve. A weak ignition runs well until the reserve is gone.",
	},
	{
		title: "A weak spark shows under load.",
		text: "A plug needs more volts with a wider gap and with more pressure at the spark. It needs little at idle, most with the throttle wide open at low speed.",
	},
	{
		title: "Gap and dwell are one thing, measured in two ways.",
		text: "A wider gap is less dwell. Three degrees more dwell is three crank degrees later, on a cam with even lobes. So set the points before the timing, never after it.",
	}, // points.shift
	{
		title: "Burning takes time, and the engine does not wait.",
		text: "Some 2 to 3 ms from spark to the best pressure (common practice). That is 9 to 13.5 crank degrees at 750 rpm and 36 to 54 at 3000, if nothing else changed. At speed the charge swirls faster and burns sooner, so an engine wants less than that. But it still wants more advance the faster it turns.",
	}, // time.crank
	{
		title: "The weights feel the square of the speed.",
		text: "Twice the speed is four times the pull. First a light spring holds them. Then a heavier spring joins in. A stop ends it. These three make the curve.",
	},
	{
		title: "The distributor turns half as fast.",
		text: "Ten degrees at 1000 distributor rpm are twenty at 2000 engine rpm. To double twice, or not at all, is the usual mistake with a table.",
	},
	{
		title: "The vacuum is for part throttle.",
		text: "A thin charge burns slowly. So the capsule adds advance there, and takes it away as the throttle opens. It saves petrol and heat. It adds nothing at full throttle (common practice).",
	},
	{
		title: "The body moves every speed alike.",
		text: "Springs, posts and stop change the shape of the curve. Turning the body only lifts or lowers all of it. A right figure at idle can hide a wrong base and a wrong curve.",
	},
	{
		title: "Too late feels like a bad carburettor.",
		text: "It pulls best when the pressure is highest some 12 to 18° after TDC (common practice). Later, the engine is weak, hot and uses more fuel. Earlier, it knocks, and that breaks pistons. So prove the ignition first. The carburettor comes last.",
	},
];

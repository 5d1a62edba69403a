// Timing found on the road: start low, two degrees at a time, stop at the first
// trace, back off.

import { agreed, beforeTheRoad, finish, heard, mayMove, pipeOff, pipeOn } from "./shared-steps.js";
import { t } from "../../kit/words.js";

/** Low down first, then the range. @returns {ProcedureStep[]} */
const pulls = () => [
	{
		id: "pull-low",
		title: "Top gear, 1500 to 2000 rpm, wide throttle, five seconds",
		engine: "road",
		cautions: ["road", "overAdvance"],
		asks: [heard("low", "About 1600 rpm", "roadLow")],
		judge: "knockLow",
		onFail: ["Ease off at once. This is the limit low down: slow the curve, or less base."],
	},
	{
		id: "pull-high",
		title: "Once through the middle and top of the range",
		engine: "road",
		cautions: ["road", "overAdvance", "law"],
		asks: [heard("high", "About 3000 rpm and above", "roadHigh")],
		judge: "knockHigh",
		onFail: ["Ease off at once. This is the limit high up: a smaller stop."],
	},
];

/** @returns {Procedure} */
export const roadTiming = () => ({
	name: "road-timing",
	title: "Find the timing on the road",
	judges: "",
	why: "The engine decides, not the estimate. Start low, stop at the first trace.",
	tools: ["passenger who listens and writes", t("strobe"), "spanner for the clamp", "golf tee for the pipe"],
	before: [
		"Curve, capsule and spread proved",
		"Warm engine, worst fuel it will see",
		"Quiet hill, windows half open",
	],
	steps: [
		{
			id: "low",
			title: "Set the base four to six degrees later than the target",
			engine: "off",
			only: mayMove,
			changes: "distributor-moved",
			cautions: ["hot", "fan", "overAdvance"],
			page: { name: "choose", label: "The target" },
			text: ["Prove it with test lamp or strobe. Clamp tight."],
		},
		beforeTheRoad(),
		pipeOff(),
		agreed(),
		...pulls(),
		{
			id: "record",
			title: "Stopped: write down what was heard",
			engine: "off",
			cautions: ["hot", "fan"],
			page: { name: "heard", label: "Heard on the road" },
			records: true,
			text: ["Speed, timing, fuel, who listened. “Nothing heard” is worth writing too."],
		},
		{
			id: "again",
			title: "All clean: two degrees earlier, and again. A trace: two to three later, and done",
			engine: "off",
			only: mayMove,
			changes: "distributor-moved",
			cautions: ["hot", "fan", "overAdvance"],
			text: ["Never repeat a pull that knocked. Never past the target without a new reason."],
		},
		pipeOn(),
		finish(),
	],
});

// The end of the chain: idle speed, and the carburettor last of all. Short:
// how they are set is in the car's manual.

import { finish, startEngine } from "./shared-steps.js";
import { t } from "../../kit/words.js";

/** @returns {Procedure} */
export const idleSpeed = () => ({
	name: "idle",
	title: "Idle speed",
	judges: "idle",
	why: "Timing and capsule move the idle, so it comes after them.",
	tools: ["tachometer", "screwdriver"],
	before: ["Base right, vacuum pipe on", "Warm engine"],
	steps: [
		startEngine(),
		{
			id: "set",
			title: "Set the idle screw",
			engine: "running",
			figure: "idle",
			changes: "idle-set",
			restores: ["idle-screw"],
			cautions: ["fan", "hot", "carbonMonoxide"],
			asks: [{ key: "rpm", label: "It idles at", kind: "speed", unit: "engine rpm", fact: "idleSpeed" }],
			judge: "idleSpeed",
			records: true,
			onFail: ["If it will not idle slowly, look for an air leak, not at the timing."],
		},
		finish(),
	],
});

/** @returns {Procedure} */
export const mixture = () => ({
	name: "mixture",
	title: "Mixture",
	judges: "mixture",
	why: `The ${t("carburettor")} comes last: most trouble blamed on it is ignition.`,
	tools: ["the car’s manual", "screwdriver"],
	before: ["All steps of the work before it are done"],
	steps: [
		startEngine(),
		{
			id: "set",
			title: "Set the mixture by the car’s manual",
			engine: "running",
			cautions: ["fan", "hot", "carbonMonoxide", "law", "fuel"],
			asks: [
				{
					key: "set",
					label: "It",
					kind: "choice",
					options: [
						{ value: "yes", label: "idles evenly and answers cleanly" },
						{ value: "no", label: "does not" },
					],
				},
			],
			judge: "yes",
			records: true,
			onFail: ["Go back over the steps before it. Only then take the carburettor apart."],
		},
		finish(),
	],
});

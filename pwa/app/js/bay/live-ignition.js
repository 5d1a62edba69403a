// What a step says that is done with the ignition on and the engine still: it
// may have been switched off in between, to spare the coil.

import { coilWatch } from "../safety/coil-watch.js";
import { garage } from "../kept/garage.js";
import { goesOnLive } from "./procedure-run.js";
import { standing, undo } from "../safety/standing.js";
import { fill, h } from "../kit/dom.js";
import { nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";

/**
 * liveIgnition says whether the ignition is on, and offers to note it on
 * again; null where the step does not need it.
 * @param {Doc<Car>} car @param {ProcedureStep} step @param {string} why @param {AbortSignal} signal
 */
export function liveIgnition(car, step, why, signal) {
	if (!goesOnLive(step)) return null;
	const room = h("div", { class: "live-ignition", "aria-live": "polite" });
	const again = async () => {
		coilWatch.begin(car.body.name, why, car.id);
		await undo(car, ["ignition-on"]).catch(() => {});
	};
	let said = "";
	const draw = () => {
		const isOn = standing(car.id).some(({ id }) => id === "ignition-on");
		if (said === String(isOn)) return;
		said = String(isOn);
		fill(
			room,
			isOn
				? h("p", null, mark("done"), " Ignition on. Work briskly, and switch off in between.")
				: [
						h(
							"p",
							null,
							mark("caution"),
							h("strong", null, " The ignition is off."),
							" Switch it on again for this step.",
						),
						nextButton("I have switched it on", again),
					],
		);
	};
	draw();
	signal.addEventListener("abort", garage.on("change", draw));
	return room;
}

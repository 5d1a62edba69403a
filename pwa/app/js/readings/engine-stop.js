// No reading is taken on the car while something is off or loose that forbids
// running the engine.

import { blockedBox } from "../safety/restore-list.js";
import { standing } from "../safety/standing.js";
import { stopped } from "../safety/temporaries.js";
import { fill, h } from "../kit/dom.js";

/** engineStop gives what must be put back before the engine runs, or null. @param {Doc<Car>} car */
export const engineStop = (car) => stopped(standing(car.id), "noStart", "Do not start the engine");

/**
 * unlessStopped draws what starts the engine, once nothing stands in its way; until then what must be put back first.
 * @param {Doc<Car>} car @param {() => import("../kit/dom.js").Children} draw
 */
export function unlessStopped(car, draw) {
	const place = h("div");
	const look = () => {
		const stop = engineStop(car);
		fill(place, stop ? blockedBox(car, stop, look) : draw());
	};
	look();
	return place;
}

/**
 * whenAllowed lets a page draw itself, at once or once everything is put back.
 * @param {HTMLElement} root @param {Doc<Car>} car @param {() => Promise<void>} enter
 */
export async function whenAllowed(root, car, enter) {
	if (!engineStop(car)) return enter();
	const place = unlessStopped(car, () => {
		enter();
		return null;
	});
	fill(root, place);
}

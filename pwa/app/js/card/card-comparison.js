// A card that came, laid beside the card of a car of one's own: in words what
// differs, both curves on one plate, every line side by side.

import { cardOf } from "./card.js";
import { bookOf, pairOf, ratioOf } from "../record/curve-lines.js";
import { differences, sideBySide } from "./card-differences.js";
import { cardRows } from "./card-rows.js";
import { garage } from "../kept/garage.js";
import { h } from "../kit/dom.js";
import { curvePlate } from "../kit/plate/curve-plate.js";
import { sideBySideTable } from "./side-by-side.js";
import { told } from "../kit/told.js";

/**
 * cardComparison draws the section.
 * @param {string} carId one's own car @param {SetupCard} theirs
 */
export function cardComparison(carId, theirs) {
	const car = /** @type {Doc<Car>} */ (garage.get("car", carId));
	const mine = cardOf({
		car,
		distributor: garage.get("distributor", car.body.distributorId),
		visits: garage.visits({ carId }),
	});
	return h(
		"section",
		{ class: "card-comparison", "aria-labelledby": "comparison-title" },
		h("h2", { id: "comparison-title", tabindex: "-1" }, "Beside my ", car.body.name),
		h(
			"ul",
			{ class: "difference-words" },
			differences(mine, theirs).map((line) => h("li", null, told(line))),
		),
		plate(mine, theirs),
		sideBySideTable(sideBySide(cardRows(mine), cardRows(theirs)), {
			mine: "mine",
			theirs: "theirs",
			title: "Line by line",
		}),
	);
}

/** @param {SetupCard} mine @param {SetupCard} theirs */
function plate(mine, theirs) {
	const pair = pairOf(mine, theirs);
	if (!pair) return null;
	const book = bookOf(mine, pair.quantity);
	return curvePlate({
		title: `${pair.quantity === "advance" ? "Advance above base" : "Total timing before TDC"}, mine and theirs${book ? ", against the book of mine" : ""}.`,
		axis: { quantity: pair.quantity, driveRatio: ratioOf(mine), baseCrankDeg: mine.spec?.baseCrankDeg ?? null },
		bands: book ?? [],
		points: [],
		curves: [
			{ kind: "fitted", name: `mine: ${pair.mine.name}`, points: pair.mine.points },
			{ kind: "what-if", name: `theirs: ${pair.theirs.name}`, points: pair.theirs.points },
		],
	});
}

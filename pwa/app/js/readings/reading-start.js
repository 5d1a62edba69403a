// Before the first reading: the cautions, and how the figures are read.

import { longest } from "../../made/shapes.js";
import { garage } from "../kept/garage.js";
import { commonReadingErrorCrankDeg } from "../record/sheet.js";
import { dayName, placeName, updateSet } from "../record/visits.js";
import { t } from "../kit/words.js";
import { fill, h } from "../kit/dom.js";
import { caution, wholeCaution } from "../kit/caution.js";
import { unlessStopped } from "./engine-stop.js";
import { watchButton } from "../safety/coil-watch-bar.js";
import { button, choice, nextButton, textField } from "../kit/field.js";

/**
 * readingStart draws the step into root.
 * @param {HTMLElement} root
 * @param {{visit: string, setId: string, car: Doc<Car>, signal: AbortSignal, onBegin: () => void, onProved?:
 *   ((isProved: boolean) => void) | null, end: HTMLElement}} options onProved: the static figure is what was asked
 *   for; where it leads, proved or left
 */
export function readingStart(root, { visit, setId, car, signal, onBegin, onProved = null, end }) {
	const doc = /** @type {Doc<Visit>} */ (garage.get("visit", visit));
	const set = doc.body.sets.find(({ id }) => id === setId);
	if (!set) return;
	/** @param {Partial<VisitSet>} change */
	const keep = (change) =>
		updateSet(visit, setId, (found) => {
			Object.assign(found, change);
		}).catch(() => {});
	const place = h("p", { class: "place" }, h("strong", null, placeName(set)), `, ${dayName(doc.body.date)}`);
	const begin = (/** @type {HTMLElement[]} */ ...before) => [
		vacuum(set, keep),
		before,
		h("div", { class: "at-foot" }, nextButton("I have read the caution: begin", onBegin)),
	];
	const still = () => staticFigure(set, keep, watchButton(car.body.name, "static timing by test lamp", signal));
	if (onProved)
		return fill(
			root,
			place,
			h("h2", null, "The static figure, by test lamp"),
			still(),
			nextButton("Read the verdict", () => onProved(true)),
			button("Not now: other readings", () => onProved(false)),
		);
	fill(
		root,
		set.place === "bench" ? begin(benchCaution(), benchBefore()) : unlessStopped(car, () => begin(carCaution())),
		place,
		more(
			["How they are read", h("small", null, readAs(set))],
			units(set, keep),
			textField({
				label: "Reading error, plus and minus",
				name: "readingErrorCrankDeg",
				isNumber: true,
				unit: "crank degrees",
				value: set.readingErrorCrankDeg,
				maxLength: longest["visitSet.readingErrorCrankDeg"],
				note: `Left empty, ${commonReadingErrorCrankDeg} is taken: common practice (1 crank degree by strobe, half a distributor degree on the bench).`,
				onInput: (readingErrorCrankDeg) => keep({ readingErrorCrankDeg }),
			}).element,
		),
		set.place === "car"
			? more(
					[
						"Static figure",
						h("small", null, set.staticCrankDeg ? `${set.staticCrankDeg}° ${set.staticSide} TDC` : ""),
					],
					still(),
				)
			: null,
		visitFields(doc),
		end,
	);
}

/** @param {Node[] | (string | Node)[]} title @param {...(Node | Node[])} inside */
const more = (title, ...inside) =>
	h("details", { class: "reading-more" }, h("summary", null, h("span", null, title)), inside);

/** How the figures of a set are read, in one line. @param {VisitSet} set */
const readAs = ({ angleUnit, speedUnit, base }) =>
	`${angleUnit} degrees, ${speedUnit} rpm, base ${base === "included" ? "in" : "not in"}`;

/** What must be read before an engine runs under the strobe. */
export function carCaution() {
	return caution(
		"before the engine runs",
		[
			`Strobe light makes fan, belts and pulleys look still. Lead the ${t("strobe")}’s cables away from them; no ties, sleeves, rings or long hair.`,
			"Do not touch any lead while it runs. High tension throws the hand into the fan. With a pacemaker, keep away from a live ignition.",
			"Doors open: exhaust gas kills in minutes. Lead it outside, never with the door down.",
			"Handbrake on, out of gear, wheels chocked. An electric fan may start by itself. Put the phone where it cannot fall into the fan.",
			"Hold a speed no longer than 20 seconds. Stand aside of the fan’s plane and watch the temperature. Plug the pipe with something cold, such as a golf tee.",
		],
		true,
	);
}

function benchCaution() {
	return caution(
		"before the bench turns",
		[
			"Guard over the chuck, distributor clamped tight. No gloves, sleeves or rags near anything that turns.",
			"Hands off while it runs: high tension. Keep its ring or gap short to earth and covered. Ventilate: sparks make ozone.",
			"Start slow and raise the speed in steps. A worn weight or spring can let go.",
		],
		true,
	);
}

function benchBefore() {
	return h(
		"p",
		{ class: "note" },
		"Direction right, points set by dwell, and the ring set to zero at the lowest speed, below where advance begins (common practice).",
	);
}

/** @param {VisitSet} set @param {(change: Partial<VisitSet>) => void} keep */
function vacuum(set, keep) {
	return choice({
		label: set.place === "bench" ? "Vacuum at the capsule" : "The vacuum pipe is",
		name: "vacuum",
		value: set.vacuum,
		isRow: true,
		onChange: (vacuum) => keep({ vacuum }),
		options:
			set.place === "bench"
				? [
						{ value: "off", label: "none" },
						{ value: "connected", label: "applied" },
					]
				: [
						{ value: "off", label: "off and plugged" },
						{ value: "connected", label: "connected" },
					],
	}).element;
}

/** @param {VisitSet} set @param {(change: Partial<VisitSet>) => void} keep */
function units(set, keep) {
	return [
		choice({
			label: "Degrees read are",
			name: "angleUnit",
			value: set.angleUnit,
			isRow: true,
			onChange: (angleUnit) => keep({ angleUnit }),
			options: [
				{ value: "crank", label: "crank degrees" },
				{ value: "distributor", label: "distributor degrees" },
			],
			note: `Set to what is usual ${placeName(set).toLowerCase()}. Look whether it is so here.`,
		}).element,
		choice({
			label: "Speeds read are",
			name: "speedUnit",
			value: set.speedUnit,
			isRow: true,
			onChange: (speedUnit) => keep({ speedUnit }),
			options: [
				{ value: "engine", label: "engine rpm" },
				{ value: "distributor", label: "distributor rpm" },
			],
		}).element,
		choice({
			label: "Base timing is",
			name: "base",
			value: set.base,
			onChange: (base) => keep({ base }),
			options: [
				{ value: "included", label: "in the readings", note: "read against the crank’s own TDC mark" },
				{ value: "excluded", label: "not in the readings", note: "zero was set where there is no advance" },
			],
		}).element,
	];
}

/** @param {VisitSet} set @param {(change: Partial<VisitSet>) => void} keep @param {HTMLElement} watch */
function staticFigure(set, keep, watch) {
	return [
		wholeCaution("with the ignition on and the engine still", [
			"Coil, ballast and thin wires heat up: switch off again within a minute or so.",
			"Turn the engine by hand only with the plugs out, and keep clear of the spanner.",
		]),
		watch,
		textField({
			label: "Points open at, by test lamp",
			name: "staticCrankDeg",
			isNumber: true,
			unit: "crank degrees",
			value: set.staticCrankDeg,
			maxLength: longest["visitSet.staticCrankDeg"],
			note: "Engine stopped. It tells the base apart from the curve; a strobe figure at idle does not.",
			onInput: (staticCrankDeg) => keep({ staticCrankDeg }),
		}).element,
		choice({
			label: "That is",
			name: "staticSide",
			value: set.staticSide,
			isRow: true,
			onChange: (staticSide) => keep({ staticSide }),
			options: [
				{ value: "before", label: "before TDC" },
				{ value: "after", label: "after TDC" },
			],
		}).element,
	];
}

/** @param {Doc<Visit>} doc */
function visitFields(doc) {
	/** @param {"title" | "notes"} name @param {string} label */
	const field = (name, label) =>
		textField({
			label,
			name,
			value: doc.body[name],
			maxLength: longest[`visit.${name}`],
			onInput: (text) =>
				garage
					.update("visit", doc.id, (body) => {
						body[name] = text;
					})
					.catch(() => {}),
		}).element;
	return h(
		"details",
		null,
		h("summary", null, "Name and notes"),
		field("title", "Name of the visit"),
		field("notes", "Notes: engine hot or cold, who read, what was changed"),
	);
}

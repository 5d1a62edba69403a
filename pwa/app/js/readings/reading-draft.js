// The reading being entered, before it is saved: what is suggested, what is
// wrong with it. Pure.

import { figures } from "../../made/shapes.js";
import { eitherSide, inWords, isIn } from "../record/figure-limits.js";
import { idleIn, nextSpeed, speedsToRead } from "./next-speed.js";
import { complete } from "../record/sheet.js";
import { parse, parseSpeed } from "../kit/format.js";

/**
 * @typedef {{rpm: string, deg: string, side: "before" | "after", direction: "rising" | "falling", field: "rpm" | "deg",
 *   suggested: boolean, editing: string, why?: string}} Draft why: said with a speed that was not suggested by the book
 */

/**
 * nextDraft begins the next reading: the speed suggested, the degrees open.
 * @param {Sheet | undefined} sheet
 * @param {VisitSet} set
 * @param {{direction: Draft["direction"], side: Draft["side"]}} [last] how the one before was taken
 * @param {number | null} [idle] the car's, engine rpm
 * @returns {Draft}
 */
export function nextDraft(sheet, set, last = { direction: "rising", side: "before" }, idle = null) {
	/** @type {Draft} */
	const draft = {
		rpm: "",
		deg: "",
		side: last.side,
		direction: last.direction,
		field: "rpm",
		suggested: false,
		editing: "",
	};
	const next = nextSpeed(
		speedsToRead(sheet, set, idle),
		complete(set),
		last.direction,
		set.speedUnit,
		idleIn(sheet, set, idle),
	);
	return next ? { ...draft, rpm: String(next.rpm), direction: next.direction, suggested: true, field: "deg" } : draft;
}

/**
 * wantedDraft begins the reading that would decide between accounts.
 * @param {{rpm: number, direction: Draft["direction"]}} wanted @param {Draft["side"]} side
 * @returns {Draft}
 */
export function wantedDraft({ rpm, direction }, side) {
	return {
		rpm: String(rpm),
		deg: "",
		side,
		direction,
		field: "deg",
		suggested: true,
		editing: "",
		why: `the reading that decides, speed ${direction}`,
	};
}

/** editDraft takes a saved reading up again, to correct it. @param {Reading} reading @returns {Draft} */
export function editDraft({ rpm, deg, side, direction, id }) {
	return {
		rpm,
		deg,
		side: side || "before",
		direction: direction || "rising",
		field: "deg",
		suggested: false,
		editing: id,
	};
}

/**
 * draftProblem says why a draft cannot be saved, or null.
 * @param {Draft} draft
 * @returns {FieldProblem | null}
 */
export function draftProblem({ rpm, deg, side }) {
	const speed = parseSpeed(rpm);
	if (speed === null)
		return {
			field: "rpm",
			problem: rpm.trim() ? `“${rpm}” is not a speed` : "no speed is typed",
			limit: "turns per minute, above 0",
			do: "Type the speed you held.",
		};
	if (!isIn(speed, figures["reading.rpm"]))
		return {
			field: "rpm",
			problem: `${rpm} rpm cannot be read at`,
			limit: inWords(figures["reading.rpm"]),
			do: "Correct the speed. The degrees are kept.",
		};
	const angle = parse(deg);
	if (angle === null)
		return {
			field: "deg",
			problem: deg.trim() ? `“${deg}” is not a number of degrees` : "no degrees are typed",
			limit: "a number, 0 too",
			do: "Type what you read at this speed.",
		};
	if (!isIn(side === "after" ? -angle : angle, figures["reading.deg"]))
		return {
			field: "deg",
			problem: `${deg} degrees${side === "after" ? " after TDC" : ""} cannot be a reading`,
			limit: eitherSide(figures["reading.deg"]),
			do: "Correct the degrees, or the side.",
		};
	return null;
}

/**
 * isFinished says that every speed of the book is read, rising and falling,
 * and no other is being entered.
 * @param {number[]} speeds @param {VisitSet} set @param {Draft} draft
 */
export function isFinished(speeds, set, draft) {
	const taken = complete(set);
	/** @param {string} way */
	const hasAll = (way) =>
		speeds.every((speed) => taken.some(({ rpm, direction }) => direction === way && Math.abs(rpm - speed) < 1));
	return speeds.length > 0 && draft.rpm === "" && hasAll("rising") && hasAll("falling");
}

/**
 * guidance says what to do now, with the mark to stand before it.
 * @param {Draft} draft @param {number[]} speeds @param {VisitSet} set
 * @param {number | null} [idle] the car's, in the unit of the readings
 * @returns {{mark: "partly" | "done" | "rising" | "falling", text: string}}
 */
export function guidance(draft, speeds, set, idle = null) {
	if (draft.editing) return { mark: "partly", text: `Correcting the reading at ${draft.rpm}, ${draft.direction}.` };
	if (isFinished(speeds, set, draft))
		return { mark: "done", text: "All of the book’s speeds are read, rising and falling." };
	if (draft.suggested && draft.why) return { mark: draft.direction, text: `Hold ${draft.rpm}: ${draft.why}.` };
	const next = nextSpeed(speeds, complete(set), draft.direction, set.speedUnit, idle);
	if (!draft.suggested || !next)
		return {
			mark: draft.direction,
			text: speeds.length > 0 ? "Type the speed you hold." : "No book speeds yet: type the speed you hold.",
		};
	const isTurn = draft.direction === "falling" && !complete(set).some(({ direction }) => direction === "falling");
	return {
		mark: draft.direction,
		text: `Hold ${draft.rpm}: ${isTurn ? "now down again" : next.why}.`,
	};
}

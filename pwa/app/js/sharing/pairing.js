// This phone and the garage's server: let in with a one-time code, listed
// among the devices, shut out again. The token is in a cookie that no script
// reads.

import { thisPhone } from "../kept/this-phone.js";
import { ask } from "../kept/server.js";
import { forgetAccess, syncNow } from "../kept/sync.js";
import { nameProblem } from "../kept/car-name.js";

/** @typedef {{id: string, name: string, owner: boolean, pairedAt: string, seenAt: string}} Device */

/**
 * codeProblem says what is wrong with a code as typed, or null.
 * @param {string} text @returns {FieldProblem | null}
 */
export function codeProblem(text) {
	const code = bareCode(text);
	const limit = "8 letters and digits";
	if (code === "")
		return {
			field: "code",
			problem: "no code is typed yet",
			limit,
			do: "Type the code that the server shows. Small letters, spaces and dashes do no harm.",
		};
	if (/[^A-Z0-9]/.test(code))
		return {
			field: "code",
			problem: "the code has a sign in it that no code has",
			limit,
			do: "Type it again as the server shows it.",
		};
	if (code.length !== 8)
		return {
			field: "code",
			problem: `the code has ${code.length} of 8 letters and digits`,
			limit,
			do: code.length < 8 ? "Type the rest of it." : "Take away what is too much.",
		};
	return null;
}

/** bareCode is a code without what people put between. @param {string} text */
export const bareCode = (text) => text.toUpperCase().replace(/[\s\-–—.]+/g, "");

/**
 * deviceProblem says what is wrong with the name of a phone, or null.
 * @param {string} name
 * @returns {FieldProblem | null}
 */
export function deviceProblem(name) {
	const found = nameProblem(name);
	return (
		found && {
			...found,
			problem: found.problem.replace("the car has no name yet", "this phone has no name yet"),
			do: name.trim() ? found.do : "Type what to call it in the list, so that it can be told from others.",
		}
	);
}

/**
 * pair lets this phone in. It fails with a Problem.
 * @param {string} code @param {string} name
 * @returns {Promise<Device>}
 */
export async function pair(code, name) {
	const { device } = await ask("POST", "pair", { code: bareCode(code), name: name.trim() });
	await thisPhone.put("deviceName", device.name); // goes with what is typed, for the names of kept copies
	await thisPhone.put("garageKey", undefined);
	forgetAccess();
	syncNow();
	return device;
}

/**
 * devices lists those the garage is open to.
 * @returns {Promise<{devices: Device[], broken?: string[], this: string}>} broken: records that let nobody in, in words
 */
export const devices = () => ask("GET", "devices");

/** shutOut ends what a device may do. @param {string} id @param {boolean} isThis */
export async function shutOut(id, isThis) {
	await ask("DELETE", `devices/${id}`);
	if (!isThis) return;
	await thisPhone.put("garageKey", undefined);
	forgetAccess();
	syncNow();
}

/**
 * newCode opens a code for another phone. address: where phones reach the app by a name that stays, if there is one.
 * @param {boolean} isOwner
 * @returns {Promise<{code: string, until: string, path: string, address?: string}>}
 */
export const newCode = (isOwner) => ask("POST", "pair/code", { owner: isOwner });

// Who the server's garage is open to: listed, shut out, and a code for another.

import { call } from "../engine/client.js";
import { devices, newCode, shutOut } from "./pairing.js";
import { hasServer } from "../kept/server.js";
import { syncState } from "../kept/sync.js";
import { trouble } from "../kit/caution.js";
import { button, choice, nextButton } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { qrFigure } from "../kit/qr.js";
import { clock } from "./save-state.js";
import { fill, h } from "../kit/dom.js";
import { appURL, isOnlyHere } from "../kit/platform.js";
import { told } from "../kit/told.js";

/** @typedef {import("./pairing.js").Device} Device */

/** @param {HTMLElement} root */
export async function show(root) {
	if (!hasServer())
		return fill(
			root,
			h("p", { class: "lead" }, "Here the garage is on this phone alone: there is nobody to let in or shut out."),
			nextButton("Keep it safe", "#/keep-safe"),
		);
	fill(root, h("p", { role: "status" }, "Asking the server…"));
	const list = h("div");
	if (!(await drawList(list))) return fill(root, list);
	fill(
		root,
		h("p", null, "Each of these reads and writes the cars on the server. The server’s own machine needs no code."),
		list,
		letIn(),
	);
}

/** @param {HTMLElement} list @returns {Promise<boolean>} whether the server told */
async function drawList(list) {
	try {
		const found = await devices();
		fill(
			list,
			found.devices.length
				? h(
						"ul",
						{ class: "ruled", role: "list" },
						found.devices.map((device) =>
							h(
								"li",
								null,
								line(
									device,
									device.id === found.this,
									found.this === "" ||
										(found.devices.find(({ id }) => id === found.this)?.owner ?? false),
									() => drawList(list),
								),
							),
						),
					)
				: h("p", null, "No other phone is let in yet."),
			(found.broken ?? []).map((what) =>
				h("p", null, `Not let in: ${what} is not as it was written. Pair that phone again.`),
			),
		);
		return true;
	} catch (problem) {
		const found = /** @type {Problem} */ (problem);
		if (found.status === 401)
			fill(
				list,
				trouble({ ...found, detail: "", limit: "", do: "Only those who are let in see the list." }),
				nextButton("Pair this phone", "#/join"),
			);
		else
			fill(
				list,
				trouble(
					found.status
						? found
						: {
								title: "The server does not answer",
								do: "The list is on the server. Be in its network and see that it runs.",
							},
				),
				button("Ask again", () => drawList(list)),
			);
		return false;
	}
}

/** @param {Device} device @param {boolean} isThis @param {boolean} mayShutOut @param {() => void} drawAgain */
function line(device, isThis, mayShutOut, drawAgain) {
	const actions = h("div");
	const said = h("div", { "aria-live": "polite" });
	const out = async () => {
		try {
			await shutOut(device.id, isThis);
			drawAgain();
		} catch (problem) {
			fill(
				said,
				trouble(
					/** @type {Problem} */ (
						/** @type {any} */ (problem)?.title
							? problem
							: {
									title: "The server does not answer",
									do: "Nothing was changed. Try again when it does.",
								}
					),
				),
			);
		}
	};
	const asks = () =>
		fill(
			actions,
			h(
				"p",
				null,
				isThis
					? "Leave the garage? What is on this phone stays on it."
					: "Shut it out? What is on that phone stays on it; it needs a new code to come back.",
			),
			button(isThis ? "Yes, leave" : "Yes, shut it out", out),
			button("No", rest),
		);
	const rest = () =>
		fill(
			actions,
			mayShutOut || isThis
				? h(
						"button",
						{ type: "button", class: "button slim", on: { click: asks } },
						isThis ? "Leave" : "Shut out",
						h("span", { class: "vh" }, ` ${device.name}`),
					)
				: null,
		);
	rest();
	return h(
		"div",
		{ class: "device" },
		h(
			"div",
			null,
			h("span", { class: "device-name" }, told(device.name)),
			isThis ? h("span", { class: "stamp" }, "this one") : null,
			h(
				"span",
				{ class: "note" },
				[
					device.owner ? "an owner’s: may let others in" : "a guest’s",
					device.pairedAt ? `paired ${day(device.pairedAt)}` : "from before there were codes",
					device.seenAt ? `seen ${day(device.seenAt)}` : "not seen yet",
				].join(", "),
				".",
			),
		),
		actions,
		said,
	);
}

/** @param {string} time RFC 3339 */
const day = (time) => clock(new Date(time));

function letIn() {
	if (syncState().access === "guest")
		return h("p", { class: "note" }, "An owner of the garage can let others in; this phone is a guest’s.");
	let isOwner = false;
	const room = h("div", { "aria-live": "polite" });
	const open = async () => {
		try {
			const made = await newCode(isOwner);
			const url = made.address ? made.address + made.path : appURL(made.path.replace(/^\//, ""));
			fill(
				room,
				h("p", { class: "pair-code" }, made.code),
				h(
					"p",
					null,
					mark("done"),
					` Good once, until ${clock(new Date(made.until))}. Type it on the other phone, at “Pair this phone”.`,
				),
				isOnlyHere && !made.address
					? h(
							"p",
							{ class: "note" },
							"On the other phone open the address that the server printed when it started.",
						)
					: qrFigure(
							await call("card.qr", { text: url }),
							"QR code that opens the app on the other phone with this code",
							"Or point the other phone’s camera at it.",
						),
			);
		} catch (problem) {
			fill(
				room,
				trouble(
					/** @type {Problem} */ (
						/** @type {any} */ (problem)?.title
							? problem
							: {
									title: "The server does not answer",
									do: "Codes are made by the server. Try again when it answers.",
								}
					),
				),
			);
		}
	};
	return h(
		"section",
		null,
		h("h2", null, "Let another phone in"),
		choice({
			label: "What it may do",
			name: "as",
			value: "guest",
			options: [
				{ value: "guest", label: "use the garage" },
				{ value: "owner", label: "use it, and let others in and shut them out" },
			],
			onChange: (value) => {
				isOwner = value === "owner";
			},
		}).element,
		nextButton("Show a code", open),
		room,
	);
}

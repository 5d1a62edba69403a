// This phone and the garage of a server: let in with a one-time code.

import { bareCode, codeProblem, deviceProblem, pair } from "./pairing.js";
import { thisPhone } from "../kept/this-phone.js";
import { drafts } from "../kept/drafts.js";
import { hasServer } from "../kept/server.js";
import { onSync, syncNow, syncState } from "../kept/sync.js";
import { trouble } from "../kit/caution.js";
import { button, nextButton, textField } from "../kit/field.js";
import { mark } from "../kit/mark.js";
import { fill, h } from "../kit/dom.js";
import { firstAnswer } from "../kit/first-answer.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const code = ctx.params.code ?? "";
	if (code) history.replaceState(history.state, "", "#/join"); // a code does not stay in the address
	if (!hasServer())
		return fill(
			root,
			h(
				"p",
				{ class: "lead" },
				"This app lies on a plain web address. Your garage stays on this phone; there is nothing to pair with.",
			),
			h("p", null, "To take a garage to another phone, export it to a file there and bring it in here."),
			nextButton("Keep it safe", "#/keep-safe"),
		);
	const name = String((await drafts.get("device-name")) ?? (await thisPhone.get("deviceName")) ?? "");
	if (!syncState().rounds) await firstAnswer(syncNow());
	if (ctx.signal.aborted) return;
	const place = h("div");
	fill(root, standing(place, ctx), pairRoom(root, code, name, ctx));
}

/**
 * The form, folded away where the phone is let in already and no code came.
 * @param {HTMLElement} root @param {string} code @param {string} name @param {PageContext} ctx
 */
function pairRoom(root, code, name, ctx) {
	const form = h("div", null, whatACodeIs(), pairForm(root, code, name));
	const room = h("div", null, form);
	const draw = () => {
		const isIn = ["owner", "guest"].includes(syncState().access);
		if (isIn && !code && form.parentNode === room)
			fill(room, h("details", null, h("summary", null, "Pair it again, with another code"), form));
	};
	draw();
	ctx.signal.addEventListener("abort", onSync(draw));
	return room;
}

const whatACodeIs = () =>
	h(
		"p",
		null,
		"A code opens the garage of the server to one phone, once. Its owner shows one: on the server’s screen, with ",
		h("code", null, "pointsmith pair"),
		", or on a phone that is let in already.",
	);

/** What this phone may do now. @param {HTMLElement} place @param {PageContext} ctx */
function standing(place, ctx) {
	const draw = () => {
		const { access, metAt } = syncState();
		if (access === "owner" || access === "guest")
			fill(
				place,
				h(
					"p",
					null,
					mark("done"),
					h("strong", null, " This phone is let in already."),
					" ",
					h("a", { href: "#/devices" }, "See who else is"),
					".",
				),
			);
		else if (access === "none")
			fill(
				place,
				h(
					"p",
					null,
					mark("watch"),
					h("strong", null, " This phone is not paired."),
					" Everything works and stays on this phone; nothing goes to the server or comes from it.",
				),
			);
		else
			fill(
				place,
				metAt
					? null
					: h(
							"p",
							{ class: "note" },
							"The server does not answer just now. Pairing needs it; everything else does not.",
						),
			);
	};
	draw();
	ctx.signal.addEventListener("abort", onSync(draw));
	return place;
}

/** @param {HTMLElement} root @param {string} code @param {string} name */
function pairForm(root, code, name) {
	const typed = { code, name };
	const said = h("div", { "aria-live": "polite" });
	const send = async () => {
		const wrong = { code: codeProblem(typed.code), name: deviceProblem(typed.name) };
		codeField.setProblem(wrong.code);
		nameField.setProblem(wrong.name);
		if (wrong.code || wrong.name) return (wrong.code ? codeField : nameField).input.focus();
		fill(said, h("p", null, "Sync with the server…"));
		try {
			const device = await pair(typed.code, typed.name);
			drafts.put("device-name", undefined);
			fill(
				root,
				h("p", { class: "lead" }, mark("done"), ` This phone shares the garage now, as “${device.name}”.`),
				h(
					"p",
					null,
					"What is typed here goes to the server whenever it answers, and what others type comes back. With the server switched off everything goes on.",
				),
				nextButton("To the garage", "#/"),
				button("Who else is let in", "#/devices"),
			);
		} catch (problem) {
			fill(said);
			const found = /** @type {Problem} */ (problem);
			if (!found.status)
				return fill(
					said,
					trouble({
						title: "The server does not answer",
						do: "Be in its network and see that it runs. The code stays typed here.",
					}),
				);
			codeField.setProblem({ ...found, title: found.title });
			codeField.input.focus();
		}
	};
	const codeField = textField({
		label: "The code",
		name: "code",
		value: bareCode(code),
		note: "8 letters and digits, good once and for ten minutes.",
		onEnter: send,
		onInput: (text) => {
			typed.code = text;
			codeField.setProblem(null);
		},
	});
	codeField.input.classList.add("code");
	codeField.input.autocapitalize = "characters";
	const nameField = textField({
		label: "What to call this phone",
		name: "device",
		value: name,
		note: "Stands in the list of devices, and beside what was typed on it: “Anna’s phone”.",
		onEnter: send,
		onInput: (text) => {
			typed.name = text;
			nameField.setProblem(null);
			drafts.put("device-name", text);
		},
	});
	return h(
		"section",
		{ class: "pair-form" },
		codeField.element,
		nameField.element,
		said,
		nextButton("Pair this phone", send),
	);
}

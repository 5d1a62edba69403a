// A setup card that came from someone: shown before anything is stored, then
// kept as a copy or laid beside a car of one's own.

import { call } from "../engine/client.js";
import { readCardFile } from "./card-file.js";
import { freeName, keepCard } from "./card-keep.js";
import { garage } from "../kept/garage.js";
import { thisPhone } from "../kept/this-phone.js";
import { cardComparison } from "./card-comparison.js";
import { trouble } from "../kit/caution.js";
import { button, nextButton } from "../kit/field.js";
import { setupCard } from "./setup-card.js";
import { dayName } from "../record/visits.js";
import { fill, h } from "../kit/dom.js";
import { address } from "../kit/address.js";
import { told } from "../kit/told.js";
import { firstCapital } from "../kit/words.js";

const longest = 16_000; // characters; card.open reads no more

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const { fragment } = ctx.params;
	if (!fragment) return fill(root, otherWays(root, ctx, true));
	fill(root, h("p", { role: "status" }, "Opening the card…"));
	try {
		if (fragment.length > longest)
			throw {
				title: "This is no setup link",
				detail: `it has ${fragment.length} characters`,
				limit: `${longest} characters`,
				do: "do not trust it; ask the sender for the card again",
			};
		const opened = await call("card.open", { fragment });
		if (!ctx.signal.aborted) drawOpened(root, ctx, opened.card, opened.fragment);
	} catch (problem) {
		if (!ctx.signal.aborted) drawRefused(root, ctx, /** @type {Problem} */ (problem));
	}
}

/** @param {HTMLElement} root @param {PageContext} ctx @param {Problem} problem */
function drawRefused(root, ctx, problem) {
	const said = problem.detail ?? problem.title;
	const title = /cut off/.test(said)
		? "This link was cut off on its way"
		: /written in version/.test(said)
			? "This link comes from a newer Pointsmith"
			: /arrived whole|far more than|characters/.test(said) && !/damaged/.test(said)
				? "This is no setup card that can be shown"
				: /damaged/.test(said)
					? "This link was damaged on its way"
					: problem.title;
	fill(
		root,
		trouble({
			...problem,
			title,
			detail: sentence(said),
			limit: /cut off|damaged/.test(said) ? "" : problem.limit,
			do: sentence(problem.do ?? ""),
		}),
		h("p", null, "Nothing has been stored."),
		otherWays(root, ctx, false),
	);
}

/** @param {string} text */
const sentence = (text) => (text ? firstCapital(text) + (/[.!?]$/.test(text) ? "" : ".") : "");

/** Where a link is pasted; empty, the style sees its placeholder. */
const linkArea = () =>
	h("textarea", { id: "pasted-link", rows: 4, placeholder: " ", spellcheck: "false", autocapitalize: "off" });

/**
 * A pasted link, or a file.
 * @param {HTMLElement} root
 * @param {PageContext} ctx
 * @param {boolean} isFirst nothing was opened before
 */
function otherWays(root, ctx, isFirst) {
	const said = h("div", { "aria-live": "polite" });
	const area = linkArea();
	const file = h("input", {
		type: "file",
		id: "card-file",
		accept: "application/json,.json,text/html,.html",
		class: "file-input",
		on: {
			change: async () => {
				const [chosen] = file.files ?? [];
				if (!chosen) return;
				try {
					const { card, fragment } = await readCardFile(
						chosen.size > 1_000_000 ? " ".repeat(400_000) : await chosen.text(),
					);
					drawOpened(root, ctx, card, fragment);
				} catch (problem) {
					const { title, field, detail, limit, do: action } = /** @type {Problem} */ (problem);
					const where = field?.replace(/^card\./, "");
					fill(
						said,
						trouble(
							where
								? {
										title: "The card in this file cannot be shown",
										detail: sentence(`${where}: ${detail ?? title}`),
										limit,
										do: "Do not trust it; ask the sender for it again.",
									}
								: { title, detail, limit, do: action },
						),
						h("p", null, "Nothing has been stored."),
					);
				}
				file.value = "";
			},
		},
	});
	return h(
		"section",
		{ class: "open-card" },
		isFirst
			? h(
					"p",
					null,
					"A setup link holds the whole card of a car. Paste it here as it came. It is shown first. Nothing is stored before you say so.",
				)
			: h("h2", null, "Try it another way"),
		h("div", { class: "field" }, h("label", { for: "pasted-link" }, "The setup link"), area),
		nextButton("Open this link", () => openPasted(root, ctx, area.value, said)),
		h("label", { class: "button", for: "card-file" }, "Open a card from a file"),
		file,
		said,
	);
}

/** @param {HTMLElement} root @param {PageContext} ctx @param {string} text @param {HTMLElement} said */
async function openPasted(root, ctx, text, said) {
	if (text.trim() === "")
		return fill(
			said,
			trouble({ title: "No link is pasted yet", do: "Paste the whole link, or what stands behind its #." }),
		);
	try {
		const { fragment } = await call("card.open", { fragment: text });
		if (!ctx.signal.aborted) ctx.go(address("card", fragment));
	} catch (problem) {
		if (!ctx.signal.aborted) drawRefused(root, ctx, /** @type {Problem} */ (problem));
	}
}

/** @param {HTMLElement} root @param {PageContext} ctx @param {SetupCard} card @param {string} fragment */
function drawOpened(root, ctx, card, fragment) {
	const cars = garage.cars();
	const alike = cars.find(({ body }) => body.name === card.car.name);
	const room = h("div");
	const said = h("div", { "aria-live": "polite" });
	const keep = async () => {
		try {
			const id = await keepCard(
				card,
				freeName(
					card,
					cars.map(({ body }) => body.name),
				),
			);
			await thisPhone.put(keptKey(fragment), { car: id, at: new Date().toISOString() }).catch(() => {});
			ctx.go(address("car", id));
		} catch {
			fill(
				said,
				trouble({
					title: "The phone has no room to keep this card",
					do: "Free some room and try again. The link stays as it is.",
				}),
			);
		}
	};
	/** @param {string} id */
	const compare = (id) => {
		fill(room, cardComparison(id, card));
		room.querySelector("h2")?.focus({ preventScroll: true });
		room.scrollIntoView();
	};
	fill(
		root,
		h(
			"section",
			{ class: "card-head" },
			h("p", { class: "card-of" }, told(card.car.name)),
			h(
				"p",
				null,
				"A setup card",
				card.setBy ? [" from ", h("strong", null, told(card.setBy))] : " from a sender not named",
				card.date ? [", ", told(dayName(card.date))] : null,
				". ",
				h("strong", null, "Nothing has been stored."),
			),
			h("p", { class: "note" }, "A link can say anything: trust the figures as far as you trust the sender."),
		),
		h("div", { class: "kept-before" }, keptBefore(fragment)),
		alike
			? [
					nextButton(h("span", null, `Compare with your “${alike.body.name}”`), () => compare(alike.id)),
					button("Keep a copy", keep),
				]
			: nextButton("Keep a copy", keep),
		said,
		compareChoice(
			cars.filter((car) => car !== alike),
			compare,
		),
		room,
		setupCard(card),
	);
}

/** @param {Doc<Car>[]} cars @param {(id: string) => void} compare */
function compareChoice(cars, compare) {
	if (!cars.length) return null;
	if (cars.length === 1) return button(["Compare with your “", cars[0].body.name, "”"], () => compare(cars[0].id));
	const select = h(
		"select",
		{ id: "compare-with" },
		cars.map((car) => h("option", { value: car.id }, car.body.name)),
	);
	return h(
		"details",
		{ class: "compare-choice" },
		h("summary", null, "Compare with one of mine"),
		h("div", { class: "field" }, h("label", { for: "compare-with" }, "My car"), select),
		button("Lay them side by side", () => compare(select.value)),
	);
}

/** The first letters of a fragment hold its length and checksum: one card, one key. @param {string} fragment */
const keptKey = (fragment) => `card/${fragment.slice(0, 16)}`;

/** @param {string} fragment */
function keptBefore(fragment) {
	const place = h("div");
	thisPhone.get(keptKey(fragment)).then(
		(before) => {
			const car = before ? garage.get("car", before.car) : null;
			if (car && !car.deleted)
				fill(
					place,
					h(
						"p",
						null,
						"A copy of this very card is in the garage: ",
						h("a", { href: address("car", car.id) }, car.body.name),
						".",
					),
				);
		},
		() => {},
	);
	return place;
}

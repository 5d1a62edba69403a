// Where everything typed is: on this phone, on the server, in a file; and what
// stands in the way.

import { engineState, engineTrouble, onState } from "../engine/client.js";
import { garage } from "../kept/garage.js";
import { onExported } from "../kept/second-place.js";
import { onPhotos, photoUse } from "../kept/photos/photos.js";
import { unsaved } from "../kept/unsaved.js";
import { thisPhone } from "../kept/this-phone.js";
import { keptCopies, onKept } from "../kept/copies.js";
import { areCarried } from "../kept/carried.js";
import { hasServer } from "../kept/server.js";
import { onSync, syncNow, syncState, unsent } from "../kept/sync.js";
import { h, fill } from "../kit/dom.js";
import { offlineState, onOffline } from "../kept/offline.js";
import { isKept } from "../kit/platform.js";
import { trouble } from "../kit/caution.js";
import { button } from "../kit/field.js";
import { useWords } from "../record/photos/visit-photos.js";
import { clock, notSent } from "./save-state.js";

/**
 * garageState draws the lines and keeps them true until the signal aborts.
 * @param {AbortSignal} signal
 */
export async function garageState(signal) {
	const [state, again, server] = [h("dl", { class: "safe-lines" }), h("div"), h("div")];
	/** @type {Known} */
	const known = { exportedAt: "", promise: null, photos: null };
	const draw = () => {
		const now = h("dl", { class: "safe-lines" }, lines(known));
		if (!now.isEqualNode(state)) fill(state, [...now.childNodes]); // no link goes away under a finger for nothing
		fill(again, unsaved.count() > 0 ? button("Save again now", () => unsaved.saveAgain()) : null);
		fill(server, serverTrouble());
	};
	const look = async () => {
		known.exportedAt = (await thisPhone.get("exportedAt").catch(() => "")) ?? "";
		known.promise = await isKept();
		known.photos = await photoUse().catch(() => null);
		if (!signal.aborted) draw();
	};
	await look();
	for (const off of [
		onSync(draw),
		onOffline(draw),
		onState(draw),
		onKept(draw),
		garage.on("change", draw),
		onExported(look),
		onPhotos(look),
		unsaved.on(draw),
	])
		signal.addEventListener("abort", off);
	return h(
		"div",
		{ class: "garage-state" },
		state,
		again,
		server,
		hasServer()
			? button("Sync now", async () => {
					await syncNow();
					draw();
				})
			: null,
	);
}

/**
 * @typedef {import("../kept/photos/photos.js").PhotoUse} PhotoUse
 * @typedef {{exportedAt: string, promise: boolean | null, photos: PhotoUse | null}} Known
 * @param {Known} known
 */
function lines({ exportedAt, promise, photos }) {
	const engine = engineState();
	const promised =
		promise === null
			? " This browser makes no promise to keep it when space is short."
			: promise
				? " The browser has promised not to clear it when space is short."
				: " The browser has not promised to keep it when space is short.";
	return [
		line(
			"Saved here",
			unsaved.count() > 0
				? `${unsaved.count() === 1 ? "1 change is" : `${unsaved.count()} changes are`} NOT saved: ${unsaved.isNoRoom() ? "the phone has no room. Free some" : "the phone’s store does not answer. Leave the app open"}; it is tried again every few seconds.${areCarried() ? " The server has it." : ""}`
				: `Everything typed is saved on this phone.${promised}`,
		),
		photos && (photos.count || photos.away) ? line("Photos", useWords(photos, hasServer())) : null,
		hasServer() ? serverLines() : null,
		line("Last exported", exportedAt ? `${clock(new Date(exportedAt))}, to a file.` : "Never to a file."),
		line(
			"Without a network",
			{
				ready: "Ready to work offline.",
				starting: "Being made ready…",
				failed: "Could not be made ready. The app works while connected.",
				impossible: "Not possible at this address.",
			}[offlineState()] ?? "",
		),
		line(
			"Calculation",
			engine === "ready"
				? "Done on this phone."
				: engine === "starting"
					? "Starting…"
					: hasServer()
						? `The server is asked: ${engineTrouble()}.`
						: `Not possible now: ${engineTrouble()}.`,
		),
	];
}

function serverLines() {
	const { at, metAt, access } = syncState();
	const waiting = unsent();
	const copies = keptCopies().length;
	return [
		line(
			"Last synced",
			`${at ? `${clock(at)}.` : "Not yet. No server is needed to work."} ${waiting ? `${notSent(waiting)}.` : "Nothing waits to be sent."}`,
		),
		line("Server seen", metAt ? `The server answered ${clock(metAt)}.` : "No server has answered yet."),
		line(
			"Paired",
			access === "none"
				? [h("strong", null, "Not paired."), " ", h("a", { href: "#/join" }, "Pair this phone")]
				: access === ""
					? h("a", { href: "#/join" }, "Pair this phone")
					: ["Let in. ", h("a", { href: "#/devices" }, "Devices")],
		),
		copies ? line("Two versions", h("a", { href: "#/kept" }, `${copies} to choose`)) : null,
	];
}

/** @param {string} what @param {string | Node | (string | Node)[]} how */
const line = (what, how) => h("div", null, h("dt", null, what), h("dd", null, how));

function serverTrouble() {
	const { trouble: refusal, refused, access } = syncState();
	return [
		refusal && access !== "none" ? trouble(refusal) : null,
		refused.map(({ key, problem }) =>
			trouble({ ...problem, title: `The server will not take ${nameOf(key)}: ${problem.title}` }),
		),
	];
}

/** @param {string} key "kind/id" */
function nameOf(key) {
	const [kind, id] = /** @type {[Kind, string]} */ (key.split("/"));
	const doc = garage.get(kind, id);
	return doc?.body?.name ? `${kind} “${doc.body.name}”` : `a ${kind}`;
}

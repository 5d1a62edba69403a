// How this phone shows things, where the garage is kept, and taking it along.

import { engineState, engineTrouble, onState } from "../calc/client.js";
import { makeBackup, readBackup, takeIn } from "../data/backup.js";
import { garage } from "../data/garage.js";
import { onSync, syncNow, syncState } from "../data/sync.js";
import { trouble } from "../elements/caution.js";
import { button, choice } from "../elements/field.js";
import { notOffline } from "../elements/not-offline.js";
import { clock } from "../elements/save-state.js";
import { fill, h } from "../lib/dom.js";
import { offlineState, onOffline } from "../offline/register.js";
import { versions } from "../offline/versions.js";
import { choose, setting } from "../settings.js";

/** @param {HTMLElement} root @param {PageContext} ctx */
export async function show(root, ctx) {
	const state = h("dl", { class: "ruled" });
	const server = h("div");
	const draw = () => {
		fill(state, stateLines());
		fill(server, serverTrouble());
	};
	draw();
	fill(root, looks(ctx), h("h2", null, "Where the garage is"), notOffline(), state, server,
		button("Meet the server now", async () => { await syncNow(); draw(); }),
		h("h2", null, "Take the garage along"), backup(),
		h("h2", null, "Versions"), await versionLines(),
		button("Fetch the app afresh", "#/reset"));
	for (const off of [onSync(draw), onOffline(draw), onState(draw), garage.on("change", draw)]) ctx.signal.addEventListener("abort", off);
}

/** @param {PageContext} ctx */
function looks(ctx) {
	return [
		choice({
			label: "Light", name: "theme", value: setting("theme"), onChange: (value) => choose("theme", value), isRow: true,
			options: [{ value: "", label: "as the phone" }, { value: "light", label: "light" }, { value: "dark", label: "dark" }, { value: "sunlight", label: "sunlight" }],
		}).element,
		choice({
			label: "Size of text", name: "text", value: setting("text"), onChange: (value) => choose("text", value), isRow: true,
			options: [{ value: "", label: "common" }, { value: "large", label: "large" }, { value: "larger", label: "larger" }],
		}).element,
		choice({
			label: "Words", name: "terms", value: setting("terms"), isRow: true, onChange: (value) => { choose("terms", value); ctx.go(location.hash); },
			options: [{ value: "uk", label: "British", note: "earth, pinking" }, { value: "us", label: "American", note: "ground, pinging" }],
		}).element,
	];
}

function stateLines() {
	const { at } = syncState();
	const waiting = garage.waiting().length;
	const engine = engineState();
	return [
		line("On this phone", garage.unsaved() > 0 ? `${garage.unsaved()} changes are NOT saved: the phone has no room. Free some and change anything once more.` : "Everything typed is saved."),
		line("On the server", `${at ? `Last met ${clock(at)}.` : "Not met yet. None is needed to work."} ${waiting ? `${waiting} documents wait to be sent.` : "Nothing waits to be sent."}`),
		line("Without a network", { ready: "Ready to work offline.", starting: "Being made ready…", failed: "Could not be made ready. The app works while connected.", impossible: "Not possible at this address." }[offlineState()] ?? ""),
		line("Calculation", engine === "ready" ? "Done on this phone." : engine === "starting" ? "Starting…" : `The server is asked: ${engineTrouble()}.`),
	];
}

/** @param {string} what @param {string} how */
const line = (what, how) => [h("dt", null, what), h("dd", null, how)];

function serverTrouble() {
	const { trouble: refusal, refused } = syncState();
	return [
		refusal ? trouble({ ...refusal, do: refusal.status === 401 || refusal.status === 403 ? "Scan the code or open the join address that the server prints when it starts." : refusal.do }) : null,
		refused.map(({ key, problem }) => trouble({ ...problem, title: `The server will not take ${nameOf(key)}: ${problem.title}` })),
	];
}

/** @param {string} key "kind/id" */
function nameOf(key) {
	const [kind, id] = /** @type {[Kind, string]} */ (key.split("/"));
	const doc = garage.get(kind, id);
	return doc?.body?.name ? `${kind} “${doc.body.name}”` : `a ${kind}`;
}

function backup() {
	const said = h("div", { "aria-live": "polite" });
	const file = h("input", { type: "file", id: "restore-file", accept: "application/json,.json", class: "file-input", on: { change: () => restore(file, said) } });
	return [
		h("p", null, "One file with every car, the removed ones too. Keep it somewhere else than on this phone: a browser may clear what it keeps."),
		button("Export the garage to a file", () => download(said)),
		h("label", { class: "button", for: "restore-file" }, "Bring a file in"), file,
		h("p", { class: "note" }, "Bringing in adds. The later change of a car stands; readings are never dropped."), said,
	];
}

/** @param {HTMLElement} said */
function download(said) {
	const url = URL.createObjectURL(new Blob([makeBackup()], { type: "application/json" }));
	const link = h("a", { href: url, download: `garage-${new Date().toISOString().slice(0, 10)}.json` });
	link.click();
	setTimeout(() => URL.revokeObjectURL(url), 60_000);
	garage.setPhone("exportedAt", new Date().toISOString()).catch(() => {});
	fill(said, h("p", null, "Exported. Look among the downloads."));
}

/** @param {HTMLInputElement} input @param {HTMLElement} said */
async function restore(input, said) {
	const [file] = input.files ?? [];
	if (!file) return;
	const { documents, problem } = readBackup(await file.text());
	input.value = "";
	if (problem) return fill(said, trouble(problem));
	try {
		const taken = await takeIn(documents);
		fill(said, h("p", null, taken ? `${taken} of ${documents.length} documents brought something new.` : "The file holds nothing that is not here already."));
	} catch (error) {
		fill(said, trouble({ title: "Not all could be saved", detail: String(/** @type {any} */ (error)?.message ?? error), do: "Free some room on the phone and bring the file in again." }));
	}
}

async function versionLines() {
	const list = h("dl", { class: "ruled" }, line("Kept on this phone", "…"), line("On the server", "…"));
	versions().then(({ here, server }) => fill(list, line("Kept on this phone", here), line("On the server", server)));
	return list;
}

import assert from "node:assert/strict";
import { test } from "node:test";
import { cautionName, cautionNames, cautions } from "../app/js/safety/cautions.js";
import { procedures } from "../app/js/bay/procedures/index.js";
import { temporaries, standingIn, inMinutes } from "../app/js/safety/temporaries.js";
import { goesOnLive, inTheWay, missingAnswer, needsIgnition, stepsFor, undoneBy } from "../app/js/bay/procedure-run.js";
import { doneLabel } from "../app/js/bay/step-view.js";
import { routes } from "../app/js/frame/routes.js";
import { cautionsOf, openCautions, pass } from "../app/js/bay/step-cautions.js";
import { freshRun } from "../app/js/bay/procedure-run.js";
import { deferral, firstSentence } from "../app/js/kit/caution.js";
import { cautionsOfSteps } from "./procedure-cautions.js";
import { layOutPaper } from "./paper-dom.js";

const all = procedures();

const steps = all.flatMap((procedure) =>
	procedure.steps.map((step) => ({ procedure, step, name: `${procedure.name}/${step.id}` })),
);
const has = (step, ...ids) => ids.every((id) => step.cautions?.includes(id));

test("every caution stands at the step where it applies", () => {
	for (const [name, columns] of Object.entries(cautionsOfSteps)) {
		const procedure = all.find((one) => one.name === name);
		assert.ok(procedure, name);
		for (const [caution, at] of Object.entries(columns)) {
			for (const id of at) {
				const step = procedure.steps.find((one) => one.id === id);
				assert.ok(step, `${name} has no step ${id}`);
				assert.ok(has(step, caution), `${name}/${id} lacks the caution “${caution}”`);
			}
		}
	}
	const used = new Set(Object.values(cautionsOfSteps).flatMap((columns) => Object.keys(columns)));
	assert.deepEqual(
		cautionNames().filter((name) => !used.has(name)),
		[],
		"cautions that stand in no column",
	);
});

/** What the boxes of a kind say at a step. */
const saidIn = (step, run, kind, isRead) =>
	cautionsOf(step, run, isRead)
		.filter((box) => box?.getAttribute("class") === kind)
		.map(({ textContent }) => textContent)
		.join(" ");

test("a caution stands open the first time in a run, then in a line with its name; all of it is there at every step", () => {
	layOutPaper();
	const [texts, names] = [cautions(), cautionName()];
	for (const procedure of all) {
		const run = freshRun();
		const met = new Set();
		for (const step of procedure.steps) {
			const name = `${procedure.name}/${step.id}`;
			const [open, line] = ["caution", "caution-line"].map((kind) => saidIn(step, run, kind));
			for (const id of step.cautions ?? []) {
				assert.ok((met.has(id) ? line : open).includes(texts[id]), `${name}: ${id}`);
				if (met.has(id)) assert.ok(line.includes(names[id]), `${name}: ${id} is not named`);
				else assert.ok(open.includes(firstSentence(texts[id])), `${name}: ${id} does not stand open`);
				assert.equal(open.includes(texts[id]), !met.has(id), `${name}: ${id} stands open a second time`);
				const read = saidIn(step, run, "caution-line", true);
				assert.ok(read.includes(names[id]) && read.includes(texts[id]), `${name}: ${id}, when it was read`);
			}
			// killed before it is confirmed, or come back to: it stands open as before
			const again = JSON.parse(JSON.stringify(run));
			assert.deepEqual(openCautions(step, again), openCautions(step, run), name);
			pass(step, again);
			assert.deepEqual(openCautions(step, again), openCautions(step, run), `${name}, come back to`);
			pass(step, run);
			for (const id of step.cautions ?? []) met.add(id);
		}
		assert.deepEqual(openCautions(procedure.steps[0], freshRun()), procedure.steps[0].cautions, "a new run");
	}
});

test("what all cautions defer to stands at the first step of a run, and on paper at every box", () => {
	layOutPaper();
	const shows = (step, run) =>
		cautionsOf(step, run).some((box) => box?.childNodes.some((one) => one.getAttribute?.("class") === "defers"));
	for (const procedure of all) {
		const run = freshRun();
		for (const [i, step] of procedure.steps.entries()) {
			assert.equal(shows(step, run), i === 0, `${procedure.name}/${step.id}`);
			const open = saidIn(step, run, "caution");
			assert.ok(open === "" || open.includes(deferral), `${procedure.name}/${step.id} on paper`);
			pass(step, run);
			if (i === 0) assert.ok(shows(step, run), `${procedure.name}/${step.id}, come back to`);
		}
	}
});

test("a caution is called by at most four words, and no two alike", () => {
	const names = Object.values(cautionName());
	assert.deepEqual(Object.keys(cautionName()).sort(), cautionNames().sort());
	assert.equal(new Set(names).size, names.length);
	for (const name of names) assert.ok(name.split(" ").length <= 4, name);
});

test("what a step does decides which cautions it must carry", () => {
	const rules = [
		["turned by hand", (step) => step.engine === "hand" && !goesOnLive(step), ["byHand"]],
		[
			"turned by hand with the ignition on",
			(step) => step.engine === "hand" && goesOnLive(step),
			["byHandLive", "ignitionOn", "fuel", "fan"],
		],
		[
			"coil lead",
			({ undoes, restores }) => undoes?.includes("king-lead") || restores?.includes("king-lead"),
			["highTension"],
		],
		[
			"cap",
			({ undoes, restores }) => undoes?.includes("cap-off") || restores?.includes("cap-off"),
			["highTension"],
		],
		["ignition on", ({ engine }) => engine === "ignition", ["ignitionOn"]],
		["fast", ({ engine }) => engine === "fast", ["highIdle", "strobe"]],
		["bench", ({ engine }) => engine === "bench", ["bench"]],
		["road", ({ engine }) => engine === "road", ["road", "overAdvance"]],
		[
			"engine started",
			({ startsEngine, engine }) => startsEngine && engine === "running",
			["carbonMonoxide", "brake", "fan", "people", "phone"],
		],
		["pipe pulled", ({ undoes }) => undoes?.includes("vacuum-pipe"), ["pipe"]],
		[
			"piston stop",
			({ undoes, restores }) => undoes?.includes("piston-stop") || restores?.includes("piston-stop"),
			["stop"],
		],
		["strobe clipped on", ({ undoes }) => undoes?.includes("strobe-leads"), ["strobe", "highTension"]],
		[
			"battery",
			({ undoes, restores }) => undoes?.includes("battery-off") || restores?.includes("battery-off"),
			["battery"],
		],
		["plugs out", ({ undoes }) => undoes?.includes("plugs-out"), ["byHand", "fuel"]],
		["timing moved", ({ changes, engine }) => changes === "distributor-moved" && engine !== "off", ["overAdvance"]],
		["strobe read", ({ judge }) => judge === "strobe", ["strobe", "highTension"]],
	];
	for (const [what, applies, need] of rules) {
		const found = steps.filter(({ step }) => applies(step));
		assert.ok(found.length > 0, `no step is: ${what}`);
		for (const { step, name } of found) assert.ok(has(step, ...need), `${name} (${what}) lacks one of ${need}`);
	}
});

test("procedures are whole: names once, texts there, every name known", async () => {
	const { judgeNames } = await import("../app/js/bay/procedure-judges.js");
	const { figureNames } = await import("../app/js/bay/procedure-figures.js");
	const [judges, figures, things, pages] = [
		new Set(judgeNames()),
		new Set(figureNames()),
		new Set(temporaries.map(({ id }) => id)),
		new Set(routes.map(({ name }) => name)),
	];
	assert.equal(new Set(all.map(({ name }) => name)).size, all.length);
	assert.equal(all.length, 17); // the fifteen of the job, and idle and mixture after them
	for (const { procedure, step, name } of steps) {
		assert.match(step.id, /^[a-z-]{2,14}$/, name);
		assert.equal(procedure.steps.filter(({ id }) => id === step.id).length, 1, `${name} is there twice`);
		assert.ok(step.title.length > 5 && step.title.length <= 110, `${name}: ${step.title}`);
		for (const id of step.cautions ?? []) assert.ok(cautions()[id], `${name} names no caution “${id}”`);
		for (const id of [
			...(step.undoes ?? []),
			...(step.restores ?? []),
			...(step.mayUndo ?? []).map(({ what }) => what),
		])
			assert.ok(things.has(id), `${name}: ${id}`);
		if (step.judge) assert.ok(judges.has(step.judge), `${name}: judge ${step.judge}`);
		if (step.judge && step.judge !== "tooth")
			assert.ok(step.onFail?.length || step.judge === "firstPost", `${name} says not what to do on fail`);
		if (step.figure) assert.ok(figures.has(step.figure), `${name}: figure ${step.figure}`);
		if (step.page) assert.ok(pages.has(step.page.name.split("/")[0]), `${name}: page ${step.page.name}`);
		if (step.page?.name.startsWith("do/"))
			assert.ok(
				all.some((one) => one.name === step.page.name.slice(3)),
				name,
			);
		for (const one of step.asks ?? [])
			if (one.kind === "choice") assert.ok((one.options?.length ?? 0) >= 2, `${name}: ${one.key}`);
	}
	for (const { tools, before, why, title } of all) assert.ok(tools.length && before.length && why && title);
});

test("what a procedure undoes it puts back, and it ends with nothing undone", () => {
	for (const { name, steps: own } of all) {
		const undone = new Set(
			own.flatMap((step) => [...(step.undoes ?? []), ...(step.mayUndo ?? []).map(({ what }) => what)]),
		);
		const restored = new Set(own.flatMap(({ restores }) => restores ?? []));
		assert.deepEqual(
			[...undone].filter((id) => !restored.has(id)),
			[],
			name,
		);
		assert.ok(own.at(-1).finishes, `${name} ends without looking at the restore list`);
	}
});

test("whatever people leave behind is listed by some step itself", () => {
	const listed = new Set(
		steps.flatMap(({ step }) => [...(step.undoes ?? []), ...(step.mayUndo ?? []).map(({ what }) => what)]),
	);
	for (const id of [
		"vacuum-pipe",
		"clamp-loose",
		"idle-screw",
		"ballast-bridged",
		"card-in-points",
		"piston-stop",
		"plug-leads",
		"plugs-out",
		"lamp-lead",
		"strobe-leads",
		"bonnet-prop",
		"cap-off",
		"battery-off",
		"ignition-on",
		"king-lead",
		"coil-feed",
	])
		assert.ok(listed.has(id), id);
});

test("steps that hang on an answer come and go; a missing answer or side is named", () => {
	const fit = all.find(({ name }) => name === "fit");
	const ids = (answers) => stepsFor(fit, answers).map(({ id }) => id);
	assert.ok(ids({ drive: "offset dog" }).includes("dog") && !ids({ drive: "offset dog" }).includes("teeth"));
	assert.ok(ids({ drive: "skew gear" }).includes("swing") && !ids({ drive: "skew gear" }).includes("dog"));
	const prove = all.find(({ name }) => name === "static").steps.find(({ id }) => id === "prove");
	assert.equal(missingAnswer(prove, {})?.key, "static");
	assert.equal(missingAnswer(prove, { static: "8" })?.key, "static");
	assert.equal(missingAnswer(prove, { static: "0" }), null);
	assert.equal(missingAnswer(prove, { static: "8", "static.side": "before" }), null);
	const chalk = all.find(({ name }) => name === "strobe-idle").steps[0];
	assert.deepEqual([undoneBy(chalk, { prop: "own" }), undoneBy(chalk, { prop: "prop" })], [[], ["bonnet-prop"]]);
});

test("the restore list keeps the first time, forgets what is put back, and speaks after 40 minutes", () => {
	const at = (minute) => new Date(Date.UTC(2026, 0, 1, 9, minute)).toISOString();
	const events = [
		{ at: at(0), undone: ["vacuum-pipe", "strobe-leads"], restored: [] },
		{ at: at(5), undone: ["vacuum-pipe", "piston-stop"], restored: ["strobe-leads"] },
		{ at: at(6), undone: [], restored: ["piston-stop"] },
	];
	const list = (minute) => standingIn(events, Date.parse(at(minute)));
	assert.deepEqual(
		list(39).map(({ id, minutes, isOverdue }) => [id, minutes, isOverdue]),
		[["vacuum-pipe", 39, false]],
	);
	assert.equal(list(40)[0].isOverdue, true);
	assert.deepEqual(
		standingIn(events.slice(0, 2), Date.parse(at(7)))
			.filter(({ noStart }) => noStart)
			.map(({ id }) => id),
		["piston-stop"],
	);
	assert.deepEqual(
		[inMinutes(0), inMinutes(1), inMinutes(43), inMinutes(180), inMinutes(6000)],
		["just now", "1 minute", "43 minutes", "3 hours", "4 days"],
	);
});

const undone = (...ids) =>
	standingIn([{ at: "2026-01-01T09:00:00Z", undone: ids, restored: [] }], Date.parse("2026-01-01T09:05:00Z"));

test("with the battery off nothing is started and nothing is done with the ignition on", () => {
	const needing = steps.filter(({ step }) => needsIgnition(step));
	assert.ok(
		["static/ignition", "static/prove", "first-start/start", "strobe-idle/read"].every((id) =>
			needing.some(({ name }) => name === id),
		),
	);
	for (const { step, name } of needing) {
		const stop = inTheWay(step, undone("battery-off", "vacuum-pipe"));
		assert.deepEqual(
			stop?.list.map(({ id }) => id),
			["battery-off"],
			name,
		);
		assert.match(stop.text, /^Battery disconnected: the (starter|ignition) has no current/, name);
		assert.equal(inTheWay(step, undone("vacuum-pipe")), null, name);
	}
	const off = steps.find(({ name }) => name === "static/off").step;
	assert.equal(inTheWay(off, undone("battery-off")), null, "switching off is always possible");
});

test("no procedure takes the battery off and then asks for the ignition", () => {
	for (const { name, steps: own } of all) {
		let isOff = false;
		for (const step of own) {
			isOff =
				(isOff && !step.restores?.includes("battery-off")) || (step.undoes?.includes("battery-off") ?? false);
			assert.ok(!isOff || !needsIgnition(step), `${name}/${step.id}`);
		}
	}
});

test("the engine neither runs nor is raised in speed while the clamp is loose, whatever the work", () => {
	const fast = steps.filter(({ step }) => step.engine === "fast");
	assert.ok(fast.length > 5);
	for (const { step, name } of fast) {
		const stop = inTheWay(step, undone("clamp-loose", "vacuum-pipe"));
		assert.equal(stop?.title, "Do not raise the speed", name);
		assert.match(stop.text, /^Clamp of the distributor loose: the body can turn by itself/, name);
		assert.equal(inTheWay(step, undone("vacuum-pipe", "clamp-light")), null, name);
	}
	const idle = steps.find(({ name }) => name === "strobe-idle/read").step;
	assert.equal(inTheWay(idle, undone("clamp-loose"))?.title, "Stop the engine");
	assert.equal(inTheWay(idle, undone("clamp-light")), null, "so the body is turned at idle");
});

test("static timing is proved with the clamp tight", () => {
	const proving = steps.filter(({ step }) => step.proves);
	assert.ok(proving.some(({ name }) => name === "static/prove"));
	for (const { step, name } of proving) {
		assert.equal(inTheWay(step, undone("clamp-loose"))?.title, "Tighten the clamp first", name);
		assert.equal(inTheWay(step, undone("vacuum-pipe")), null, name);
	}
	for (const { name, steps: own } of all) {
		let isUndone = /** @type {string[]} */ ([]);
		for (const step of own) {
			isUndone = isUndone.filter((id) => !step.restores?.includes(id)).concat(step.undoes ?? []);
			if (step.proves)
				assert.equal(inTheWay(step, undone(...isUndone)), null, `${name}/${step.id} in its own run`);
		}
	}
});

test("no procedure loosens or opens something and then raises the speed", () => {
	for (const { name, steps: own } of all) {
		let isUndone = /** @type {string[]} */ ([]);
		for (const step of own) {
			isUndone = isUndone.filter((id) => !step.restores?.includes(id)).concat(step.undoes ?? []);
			const stop = step.engine === "fast" ? inTheWay(step, undone(...isUndone)) : null;
			assert.equal(stop, null, `${name}/${step.id}`);
		}
	}
});

test("“Put back” is said where something goes back in its place, “Done” where something is taken away or switched off", () => {
	const label = (name) => doneLabel(steps.find((one) => one.name === name).step);
	for (const name of [
		"prove-tdc/stop-out",
		"static/off",
		"static/lamp-off",
		"static/tighten",
		"strobe-idle/strobe-off",
		"strobe-idle/prop-off",
		"first-start/unbridge",
		"points/card-out",
		"fit/clamp",
	])
		assert.equal(label(name), "Done: next step", name);
	for (const name of [
		"prove-tdc/battery-on",
		"fit/battery-on",
		"points/cap-on",
		"static/plugs-in",
		"static/cap-on",
		"static/king-back",
		"static/feed-on",
		"points/pipe-on",
		"strobe-idle/pipe-on",
		"strobe-idle/screw-back",
		"phasing/own-cap",
	])
		assert.equal(label(name), "Put back: next step", name);
	for (const { step, name } of steps)
		if (step.putsBack) assert.ok(step.restores?.length, `${name} puts nothing back`);
});

test("while the curve fails no step turns the body, and all the rest stays", () => {
	const turning = procedures().filter(({ steps }) => steps.some(({ changes }) => changes === "distributor-moved"));
	assert.ok(turning.length >= 3);
	for (const procedure of turning) {
		const all = stepsFor(procedure, { moves: "yes", move: "yes" });
		const measured = stepsFor(procedure, { moves: "no", move: "no" });
		assert.ok(all.some(({ changes }) => changes === "distributor-moved"));
		assert.ok(
			!measured.some(
				({ changes, undoes = [] }) => changes === "distributor-moved" || undoes.includes("clamp-light"),
			),
		);
		assert.ok(
			measured.some(({ records }) => records),
			procedure.name,
		);
		for (const step of measured) assert.ok(all.includes(step) || all.some(({ id }) => id === step.id));
	}
});

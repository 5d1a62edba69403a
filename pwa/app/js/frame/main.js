// Starts the app and shows the page of the address. A page is a module
// ROOM/NAME-page.js with `show(root, ctx)`; main.js draws the head above it (car name
// large, page title as the only h1), so a page's own headings begin at h2.

import { engineRests, start as wakeEngine } from "../engine/client.js";
import { areCarried } from "../kept/carried.js";
import { garage } from "../kept/garage.js";
import { askOnceItMatters } from "../kept/second-place.js";
import { hasServer, learnServer } from "../kept/server.js";
import { startPhotoSync } from "../kept/photos/photo-sync.js";
import { onSync, startSync, syncNow, syncState } from "../kept/sync.js";
import { unsaved } from "../kept/unsaved.js";
import { startCoilWatch } from "../safety/coil-watch-bar.js";
import { pageFoot, pageHead } from "./page-frame.js";
import { startRestoreBar } from "../safety/restore-bar.js";
import { trouble } from "../kit/caution.js";
import { nextButton } from "../kit/field.js";
import { fill, h } from "../kit/dom.js";
import { firstAnswer } from "../kit/first-answer.js";
import { openOnPaper } from "../kit/fold.js";
import { keepPlace, resumePlace } from "./place.js";
import { startOffline } from "../kept/offline.js";
import { breath, stayAwake } from "../kit/platform.js";
import { applySettings } from "../kit/settings.js";
import { fetchPages, pageOf } from "./pages.js";
import { match, routes } from "./routes.js";
import { announce, offerUpdate } from "./update-bar.js";
import { inEnglish } from "../kit/words.js";

const head = /** @type {HTMLElement} */ (document.getElementById("head"));
const main = /** @type {HTMLElement} */ (document.getElementById("main"));
const foot = /** @type {HTMLElement} */ (document.getElementById("foot"));

/** Ends whatever the page shown last is still doing. */
let leaving = new AbortController();
let shown = "";

/** @param {string} hash */
function go(hash) {
	if (location.hash === hash) showPage();
	else location.hash = hash;
}

/** Is somebody typing on the page? */
const isTyping = () => main.querySelector("input[type=text]:focus, textarea:focus") !== null;

/** Is a finger on the screen, or was it a moment ago? */
// 400 ms: a tap's click has been handled by then. Chosen
const finger = { isDown: false, last: 0, isBusy: () => finger.isDown || Date.now() - finger.last < 400 };
for (const [event, isDown] of /** @type {const} */ ([
	["pointerdown", true],
	["pointerup", false],
	["pointercancel", false],
])) {
	addEventListener(event, () => Object.assign(finger, { isDown, last: Date.now() }), {
		capture: true,
		passive: true,
	});
}

/** How often something was changed on this page since the app was opened. */
let ownChanges = 0;

const showPage = () => show(false);

/**
 * Cars and distributors have all their pages in common but the first.
 * @param {NonNullable<ReturnType<typeof match>>} found
 */
const ofWhat = ({ route, params }) =>
	["car", "unit"].includes(route.name)
		? /** @type {import("./routes.js").Route} */ (
				routes.find(({ name }) => name === (garage.isUnit(params.car) ? "unit" : "car"))
			)
		: route;

/**
 * @param {boolean} isAgain the page that is shown, drawn again because something changed elsewhere: it stays until the
 *   new one is ready, and when somebody types on it, taps it or has changed something that the new one has not seen
 */
async function show(isAgain) {
	const hash = location.hash || "#/";
	const isNew = hash !== shown;
	const found = match(hash);
	const [before, mine] = [leaving, new AbortController()];
	const { signal } = mine;
	const seen = ownChanges;
	const takeOver = () => {
		const isInUse = isAgain && (isTyping() || finger.isBusy() || ownChanges !== seen);
		if (before !== leaving || isInUse) return mine.abort();
		before.abort();
		leaving = mine;
	};
	if (!isAgain) takeOver();
	if (!found) return showLost("This address leads nowhere.", signal);
	const { params } = found;
	const route = ofWhat(found);
	const car = route.ofCar ? garage.get("car", params.car) : null;
	if (isAgain && route.ofCar && (!car || car.deleted)) takeOver();
	if (route.ofCar && (!car || car.deleted)) return showWhenItComes(params.car, signal);
	const distributor = car ? garage.get("distributor", car.body.distributorId) : null;
	const ctx = { params, car, distributor, visits: car ? garage.visits({ carId: car.id }) : [], go, signal };
	const root = document.createElement("div");
	root.className = `sheet ${route.name}`;
	await draw(root, route, ctx);
	if (isAgain) takeOver();
	if (signal.aborted) return;
	document.title = car ? `${car.body.name} · ${inEnglish(route.title)}` : `${inEnglish(route.title)} · Pointsmith`;
	document.documentElement.dataset.page = route.name;
	atStep(found);
	const asleep = h("p", { class: "note screen-sleeps", role: "note" });
	if (route.working)
		stayAwake(signal, (why) =>
			fill(asleep, `${why} It sleeps as the phone’s settings say; nothing is lost by it.`),
		);
	pageHead(head, route, car, signal);
	fill(main, root, asleep);
	const isFirst = shown === "";
	shown = hash;
	// the keyboard and the screen reader go to the title; in a page just loaded they begin at the top anyway
	if (isNew && !isFirst) head.querySelector("h1")?.focus({ preventScroll: true });
	keepPlace(hash, isNew, route.working === true, isFirst);
	if (route.follows) followOthers(ctx);
}

/**
 * The bars at the top are lower where a step of guided work stands on the page.
 * @param {ReturnType<typeof match>} found
 */
const atStep = (found) => document.documentElement.toggleAttribute("data-step", Boolean(found?.params.step));

/**
 * followOthers draws the page again when another tab or phone changes what it
 * shows, but not under the hands of someone who is typing.
 * @param {PageContext} ctx
 */
function followOthers({ car, distributor, visits, signal }) {
	const shownHere = new Set([car?.id, distributor?.id, ...visits.map(({ id }) => id)]);
	let isDue = false;
	/** @type {any} */
	let timer = null;
	const drawSoon = (wait = 50) => {
		clearTimeout(timer);
		timer = setTimeout(drawWhenIdle, wait);
	};
	const drawWhenIdle = async () => {
		if (!isDue || signal.aborted || isTyping()) return;
		// what a finger is about to tap must not go away under it
		if (!finger.isBusy()) await show(true);
		if (!signal.aborted) drawSoon(100); // the page gave way to what is done here
	};
	const off = garage.on("change", ({ from, ids }) => {
		if (from === "here" || ![...shownHere].some((id) => ids.has(id))) return;
		isDue = true;
		drawSoon();
	});
	main.addEventListener("focusout", () => drawSoon(), { signal });
	signal.addEventListener("abort", off);
}

/**
 * draw lets the page's module draw itself; one that cannot says so.
 * @param {HTMLElement} root
 * @param {import("./routes.js").Route} route
 * @param {PageContext} ctx
 */
async function draw(root, { room, name }, ctx) {
	try {
		const page = await pageOf(room, name);
		await breath(); // a page just fetched is put together in a turn of its own
		if (!ctx.signal.aborted) await page.show(root, ctx);
	} catch (error) {
		console.error(error);
		fill(
			root,
			trouble({
				title: "This page could not be drawn",
				detail: String(/** @type {any} */ (error)?.message ?? error),
				do: "Go back, or reload. What you typed is saved.",
			}),
		);
	}
}

/**
 * showWhenItComes waits for a car that may be on the server: a page's address
 * can be opened on a phone that has not met it yet.
 * @param {string} id @param {AbortSignal} signal
 */
async function showWhenItComes(id, signal) {
	const isDue = () => hasServer() && syncState().rounds === 0 && !garage.get("car", id);
	if (isDue()) await firstAnswer(syncNow()); // what was on the screen stays meanwhile
	if (signal.aborted) return;
	let said = "";
	const draw = () => {
		const car = garage.get("car", id);
		if (car && !car.deleted) return showPage();
		const why = isDue() ? "Looking for this car on the server …" : "This car is not in the garage of this phone.";
		if (why !== said) showLost(why, signal);
		said = why;
	};
	for (const off of [
		garage.on("change", () => {
			if (!signal.aborted && garage.get("car", id)) draw();
		}),
		onSync(() => {
			if (!signal.aborted) draw();
		}),
	])
		signal.addEventListener("abort", off);
	draw();
}

/** @param {string} why @param {AbortSignal} signal */
async function showLost(why, signal) {
	if (signal.aborted) return;
	document.title = "No such page · Pointsmith";
	document.documentElement.dataset.page = "lost";
	pageHead(head, { name: "lost", room: "frame", path: "", title: "No such page" }, null, signal);
	fill(
		main,
		trouble({ title: why, do: "Go back to the garage. Removed cars can be brought back there." }),
		nextButton("To the garage", "#/"),
	);
	shown = location.hash;
}

function keepSkipLinkOutOfTheAddress() {
	document.querySelector("[data-skip]")?.addEventListener("click", (event) => {
		event.preventDefault();
		main.focus();
	});
}

/** bringPage fetches the page of this address while the garage is opened; one that fails is asked for again. */
function bringPage() {
	const found = match(location.hash);
	if (found) pageOf(found.route.room, found.route.name).catch(() => {});
}

async function startApp() {
	applySettings();
	if (location.hash.length > 2) {
		wakeEngine(); // the garage itself does not wait for it
		bringPage();
	}
	keepSkipLinkOutOfTheAddress();
	openOnPaper();
	pageFoot(foot);
	try {
		await garage.open();
	} catch (error) {
		fill(
			main,
			trouble({
				title: "This browser will not keep anything",
				detail: `It refuses its store to this app (${String(/** @type {any} */ (error)?.message ?? error)}).`,
				do: "Leave private browsing, or allow this address to store data, and reload. Nothing can be saved until then.",
			}),
		);
		return;
	}
	await breath();
	atStep(match(location.hash || "#/")); // from the beginning, so that nothing moves
	await startCoilWatch().catch(() => {});
	await breath();
	startRestoreBar(/** @type {HTMLElement} */ (document.getElementById("notices")));
	await learnServer();
	await resumePlace();
	addEventListener("hashchange", showPage);
	addEventListener("beforeunload", (event) => {
		if (unsaved.isRefused() && !areCarried()) event.preventDefault(); // the browser asks first
	});
	garage.on("change", ({ from }) => {
		if (from === "here") ownChanges++;
	});
	await showPage();
	performance.mark("first page"); // what is fetched from now on comes after the first screen
	wakeEngine();
	// one after the other, so that a finger is heard in between
	for (const begin of [
		startPhotoSync,
		startSync,
		() => startOffline({ offer: offerUpdate, announce }),
		askOnceItMatters,
		async () => {
			await engineRests(); // what the first screen waits for comes before the other pages
			await fetchPages();
		},
	]) {
		await breath();
		Promise.resolve(begin()).catch(() => {});
	}
}

startApp();

// Starts the app and shows the page of the address. A page is a module in
// pages/ with `show(root, ctx)`; main.js draws the head above it (car name
// large, page title as the only h1), so a page's own headings begin at h2.

import { start as wakeEngine } from "./calc/client.js";
import { garage } from "./data/garage.js";
import { askOnceItMatters } from "./data/safety.js";
import { learnServer } from "./data/server.js";
import { startSync } from "./data/sync.js";
import { startCoilWatch } from "./elements/coil-watch-bar.js";
import { pageFoot, pageHead } from "./elements/page-frame.js";
import { startRestoreBar } from "./elements/restore-bar.js";
import { trouble } from "./elements/caution.js";
import { fill } from "./lib/dom.js";
import { match } from "./lib/routes.js";
import { keepPlace, resumePlace } from "./place.js";
import { startOffline } from "./offline/register.js";
import { stayAwake } from "./platform.js";
import { applySettings } from "./settings.js";

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
const finger = { isDown: false, last: 0, isBusy: () => finger.isDown || Date.now() - finger.last < 400 }; // ms: a tap's click has been handled by then. Chosen
for (const [event, isDown] of /** @type {const} */ ([["pointerdown", true], ["pointerup", false], ["pointercancel", false]])) {
	addEventListener(event, () => Object.assign(finger, { isDown, last: Date.now() }), { capture: true, passive: true });
}

const showPage = () => show(false);

/** @param {boolean} isAgain the page that is shown, drawn again because something changed elsewhere: it stays until the new one is ready, and when somebody has begun to type on it */
async function show(isAgain) {
	const hash = location.hash || "#/";
	const isNew = hash !== shown;
	const found = match(hash);
	const [before, mine] = [leaving, new AbortController()];
	const { signal } = mine;
	const takeOver = () => {
		if (before !== leaving || isAgain && isTyping()) return mine.abort();
		before.abort();
		leaving = mine;
	};
	if (!isAgain) takeOver();
	if (!found) return showLost("This address leads nowhere.", signal);
	const { route, params } = found;
	const car = route.ofCar ? garage.get("car", params.car) : null;
	if (isAgain && route.ofCar && (!car || car.deleted)) takeOver();
	if (route.ofCar && (!car || car.deleted)) return showLost("This car is not in the garage of this phone.", signal);
	const distributor = car ? garage.get("distributor", car.body.distributorId) : null;
	const ctx = { params, car, distributor, visits: car ? garage.visits({ carId: car.id }) : [], go, signal };
	const root = document.createElement("div");
	root.className = `sheet ${route.name}`;
	await draw(root, route.name, ctx);
	if (isAgain) takeOver();
	if (signal.aborted) return;
	document.title = car ? `${car.body.name} · ${route.title}` : `${route.title} · Pointsmith`;
	document.documentElement.dataset.page = route.name;
	if (route.working) stayAwake(signal);
	pageHead(head, route, car);
	fill(main, root);
	shown = hash;
	if (isNew) head.querySelector("h1")?.focus({ preventScroll: true }); // the keyboard and the screen reader go to the title
	keepPlace(hash, isNew, route.working === true);
	if (route.follows) followOthers(ctx);
}

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
	const drawWhenIdle = () => {
		if (!isDue || signal.aborted || isTyping()) return;
		if (finger.isBusy()) drawSoon(100); // what it is about to tap must not go away under it
		else show(true);
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
 * @param {string} name
 * @param {PageContext} ctx
 */
async function draw(root, name, ctx) {
	try {
		const page = await import(`./pages/${name}.js`);
		if (!ctx.signal.aborted) await page.show(root, ctx);
	} catch (error) {
		console.error(error);
		fill(root, trouble({ title: "This page could not be drawn", detail: String(/** @type {any} */ (error)?.message ?? error), do: "Go back, or reload. What you typed is saved." }));
	}
}

/** @param {string} why @param {AbortSignal} signal */
async function showLost(why, signal) {
	if (signal.aborted) return;
	document.title = "No such page · Pointsmith";
	document.documentElement.dataset.page = "lost";
	pageHead(head, { name: "lost", path: "", title: "No such page" }, null);
	fill(main, trouble({ title: why, do: "Go back to the garage. Removed cars can be brought back there." }));
	shown = location.hash;
}

function keepSkipLinkOutOfTheAddress() {
	document.querySelector("[data-skip]")?.addEventListener("click", (event) => {
		event.preventDefault();
		main.focus();
	});
}

async function startApp() {
	applySettings();
	wakeEngine();
	keepSkipLinkOutOfTheAddress();
	pageFoot(foot);
	try {
		await garage.open();
	} catch (error) {
		fill(main, trouble({
			title: "This browser will not keep anything",
			detail: `It refuses its store to this app (${String(/** @type {any} */ (error)?.message ?? error)}).`,
			do: "Leave private browsing, or allow this address to store data, and reload. Nothing can be saved until then.",
		}));
		return;
	}
	await startCoilWatch().catch(() => {});
	startRestoreBar(/** @type {HTMLElement} */ (document.getElementById("notices")));
	await learnServer();
	await resumePlace();
	addEventListener("hashchange", showPage);
	await showPage();
	startOffline();
	startSync();
	askOnceItMatters();
}

startApp();

// Addresses of the app, all behind the #, so that one page serves every one
// of them and the browser's own back button works.

/**
 * @typedef {{name: string, room: string, path: string, title: string, unitTitle?: string, ofCar?: boolean,
 *   working?: boolean, follows?: boolean, chapter?: string}} Route unitTitle: of a distributor by itself
 */

/**
 * @type {Route[]} chapter numbers follow the order of the job; follows: drawn again when its documents change
 *   elsewhere; the module is ROOM/NAME-page.js; optional parts end in "?".
 */
export const routes = [
	{ name: "garage", room: "garage", path: "", title: "The garage" },
	{ name: "car", room: "job", follows: true, path: "car/:car", title: "The job", ofCar: true },
	{ name: "hunt", room: "hunt", path: "car/:car/hunt", title: "The fault hunt", ofCar: true, working: true },
	{ name: "roadside", room: "hunt", path: "roadside", title: "Dead at the roadside" },
	{ name: "unit", room: "bench", follows: true, path: "unit/:car", title: "On the bench", ofCar: true },
	{
		name: "work",
		room: "bench",
		follows: true,
		path: "car/:car/work",
		title: "Work done",
		ofCar: true,
		working: true,
	},
	{ name: "fits", room: "bench", path: "car/:car/fits", title: "Which one fits?", ofCar: true },
	{ name: "choose", room: "choose", path: "car/:car/choose", title: "Choose a curve", ofCar: true, working: true },
	{
		name: "heard",
		room: "choose",
		path: "car/:car/heard",
		title: "Heard on the road",
		ofCar: true,
		working: true,
	},
	{ name: "map", room: "choose", path: "car/:car/map", title: "The map", ofCar: true },
	{ name: "why", room: "why", path: "car/:car/why/:chapter?", title: "Show why", ofCar: true, working: true },
	{ name: "history", room: "history", path: "car/:car/history", title: "History", ofCar: true },
	{ name: "photos", room: "photos", path: "car/:car/photos/:visit?/:photo?", title: "Photos", ofCar: true },
	{
		name: "compare",
		room: "history",
		path: "car/:car/compare/:one?/:other?/:of?",
		title: "Before and after",
		ofCar: true,
	},
	{
		name: "intake",
		room: "figures",
		path: "car/:car/figures",
		title: "Figures in and out",
		ofCar: true,
		working: true,
	},
	{ name: "library", room: "figures", path: "library/:for?", title: "The library of curves" },
	{ name: "shared", room: "figures", path: "figures", title: "Figures from outside" },
	{
		name: "facts",
		room: "job",
		follows: true,
		path: "car/:car/facts",
		title: "Facts",
		ofCar: true,
		working: true,
		chapter: "1",
	},
	{
		name: "book",
		room: "book",
		follows: true,
		path: "car/:car/book",
		title: "The book’s figures",
		ofCar: true,
		working: true,
		chapter: "2",
	},
	{
		name: "condition",
		room: "condition",
		path: "car/:car/condition",
		title: "Condition",
		ofCar: true,
		working: true,
		chapter: "3",
	},
	{
		name: "volts",
		room: "electrics",
		path: "car/:car/volts",
		title: "Volts along the feed",
		ofCar: true,
		working: true,
		chapter: "4",
	},
	{
		name: "points",
		room: "electrics",
		path: "car/:car/points",
		title: "The points",
		ofCar: true,
		working: true,
		chapter: "5",
	},
	{
		name: "spark",
		room: "electrics",
		path: "car/:car/spark",
		title: "The spark",
		ofCar: true,
		working: true,
		chapter: "6",
	},
	{
		name: "readings",
		room: "readings",
		path: "car/:car/readings/:visit?/:set?",
		title: "Readings",
		ofCar: true,
		working: true,
		chapter: "7",
	},
	{
		name: "verdict",
		room: "curve",
		path: "car/:car/verdict",
		title: "Verdict",
		ofCar: true,
		working: true,
		chapter: "8",
	},
	{
		name: "what-if",
		room: "curve",
		path: "car/:car/what-if/:mend?",
		title: "What if",
		ofCar: true,
		working: true,
		chapter: "9",
	},
	{
		name: "strobe",
		room: "curve",
		path: "car/:car/strobe",
		title: "What the strobe should say",
		ofCar: true,
		working: true,
		chapter: "10",
	},
	{
		name: "card",
		room: "card",
		path: "car/:car/card",
		title: "The setup card",
		unitTitle: "The bench sheet",
		ofCar: true,
	},
	{ name: "wall", room: "card", path: "car/:car/wall", title: "The wall sheet", ofCar: true },
	{ name: "setup-link", room: "card", path: "card/:fragment?", title: "A setup card" },
	{
		name: "do",
		room: "bay",
		path: "car/:car/do/:procedure?/:step?",
		title: "Guided work",
		ofCar: true,
		working: true,
	},
	{
		name: "call",
		room: "readings",
		path: "car/:car/call/:visit?/:set?",
		title: "Two-person readings",
		ofCar: true,
		working: true,
	},
	{ name: "marks", room: "marks", path: "car/:car/marks", title: "Marks", ofCar: true, working: true },
	{ name: "tape", room: "marks", path: "car/:car/tape", title: "Timing tape", ofCar: true, working: true },
	{ name: "cap", room: "marks", path: "car/:car/cap", title: "Cap plan", ofCar: true, working: true },
	{
		name: "condenser",
		room: "electrics",
		path: "car/:car/condenser",
		title: "The condenser",
		ofCar: true,
		working: true,
	},
	{ name: "vacuum", room: "vacuum", path: "car/:car/vacuum", title: "Vacuum capsule", ofCar: true, working: true },
	{
		name: "scatter",
		room: "scatter",
		path: "car/:car/scatter",
		title: "Cylinder by cylinder",
		ofCar: true,
		working: true,
	},
	{ name: "restore", room: "safety", path: "car/:car/restore", title: "Put back", ofCar: true, working: true },
	{ name: "settings", room: "frame", path: "settings", title: "Settings" },
	{ name: "help", room: "help", path: "help/:topic?", title: "Help" },
	{ name: "join", room: "sharing", path: "join/:code?", title: "Pair this phone" },
	{ name: "devices", room: "sharing", path: "devices", title: "Devices" },
	{ name: "kept", room: "sharing", path: "kept/:kind?/:id?/:revision?", title: "Two versions: choose one" },
	{ name: "keep-safe", room: "sharing", path: "keep-safe", title: "Keep it safe" },
	{ name: "reset", room: "frame", path: "reset", title: "Fetch the app’s files again" },
];

/**
 * match finds the route of an address.
 * @param {string} hash with or without the leading "#/"
 * @returns {{route: Route, params: {[name: string]: string}} | null}
 */
export function match(hash) {
	const parts = hash
		.replace(/^#?\/?/, "")
		.replace(/\/+$/, "")
		.split("/")
		.map(decode);
	for (const route of routes) {
		const params = matchParts(route.path.split("/"), parts);
		if (params) return { route, params };
	}
	return null;
}

/**
 * @param {string[]} pattern
 * @param {string[]} parts
 */
function matchParts(pattern, parts) {
	if (parts.length > pattern.length) return null;
	/** @type {{[name: string]: string}} */
	const params = {};
	for (const [index, piece] of pattern.entries()) {
		const part = parts[index];
		if (piece.startsWith(":")) {
			const name = piece.replace(/[:?]/g, "");
			if (part) params[name] = part;
			else if (!piece.endsWith("?")) return null;
		} else if (piece !== (part ?? "")) {
			return null;
		}
	}
	return params;
}

/** @param {string} part */
function decode(part) {
	try {
		return decodeURIComponent(part);
	} catch {
		return part;
	}
}

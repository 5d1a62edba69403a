// Terms of the trade that differ between Britain and America.

/** @type {{[key: string]: [uk: string, us: string]}} */
const terms = {
	earth: ["earth", "ground"],
	points: ["contact breaker points", "breaker points"],
	heel: ["heel", "rubbing block"],
	baseplate: ["baseplate", "breaker plate"],
	condenser: ["condenser", "condenser"],
	rotor: ["rotor arm", "rotor"],
	lead: ["plug lead", "plug wire"],
	coilLead: ["king lead", "coil wire"],
	lowTension: ["low tension", "primary"],
	highTension: ["high tension", "secondary"],
	plug: ["sparking plug", "spark plug"],
	capsule: ["vacuum capsule", "vacuum can"],
	weights: ["bob-weights", "flyweights"],
	stop: ["stop", "limit plate"],
	strobe: ["strobe lamp", "timing light"],
	pinking: ["pinking", "pinging"],
	runOn: ["run-on", "dieseling"],
	idle: ["tickover", "idle"],
	staticTiming: ["static timing", "initial timing"],
	ballast: ["ballast resistor", "ballast resistor"],
	dynamo: ["dynamo", "generator"],
	bonnet: ["bonnet", "hood"],
	wing: ["wing", "fender"],
	spanner: ["spanner", "wrench"],
	feeler: ["feeler blade", "feeler gauge"],
	manifold: ["inlet manifold", "intake manifold"],
	petrol: ["petrol", "gasoline"],
	endFloat: ["end float", "end play"],
	bush: ["bush", "bushing"],
	vernier: ["vernier adjuster", "octane selector"],
	drive: ["skew gear", "helical gear"],
	carburettor: ["carburettor", "carburetor"],
};

/** @type {"uk" | "us"} */
let spoken = "uk";

/** @param {"uk" | "us"} which */
export function speak(which) {
	spoken = which;
}

/** The terms now in use: "uk" or "us". */
export function speaking() {
	return spoken;
}

/**
 * t gives a term in the chosen English. An unknown key is a mistake of ours
 * and is shown as it is, so that nothing goes blank.
 * @param {string} key
 */
export function t(key) {
	const pair = terms[key];
	return pair ? pair[spoken === "us" ? 1 : 0] : key;
}

/** capital is t with a capital first letter. @param {string} key */
export function capital(key) {
	const word = t(key);
	return word.charAt(0).toUpperCase() + word.slice(1);
}

/**
 * What sentences say in Britain and in America. Longer ones stand first.
 * @type {[uk: string, us: string][]}
 */
const spelt = [
	["high[- ]tension", "secondary voltage"],
	["low[- ]tension", "primary"],
	["king lead", "coil wire"],
	["coil lead", "coil wire"],
	["plug lead", "plug wire"],
	["rotor arm", "rotor"],
	["sparking plug", "spark plug"],
	["feeler blade", "feeler gauge"],
	["strobe lamp", "timing light"],
	["inlet manifold", "intake manifold"],
	["inlet", "intake"],
	["vacuum capsule", "vacuum can"],
	["capsule", "vacuum can"],
	["end float", "end play"],
	["bob-weight", "flyweight"],
	["skew gear", "helical gear"],
	["vernier adjuster", "octane selector"],
	["vernier", "octane selector"],
	["an earth", "a ground"],
	["a tickover", "an idle"],
	["earthed", "grounded"],
	["earth", "ground"],
	["heel", "rubbing block"],
	["baseplate", "breaker plate"],
	["tickover", "idle"],
	["spanners", "wrenches"],
	["spanner", "wrench"],
	["petrol", "gasoline"],
	["carburettor", "carburetor"],
	["bushes", "bushings"],
	["bush", "bushing"],
	["pinking", "pinging"],
	["dynamo", "generator"],
	["bonnet", "hood"],
	["handbrake", "parking brake"],
	["anticlockwise", "counterclockwise"],
	["colour", "color"],
	["grey", "gray"],
	["centre", "center"],
	["metre", "meter"],
];
const inBritain = new RegExp(`\\b(${spelt.map(([uk]) => uk).join("|")})(s?)\\b`, "gi");

/**
 * inEnglish gives a sentence of ours in the chosen English. What a person typed is
 * never put through it, and neither is a source.
 * @template T @param {T} text anything but a string stays as it is
 * @returns {T}
 */
export function inEnglish(text) {
	if (spoken !== "us" || typeof text !== "string") return text;
	return /** @type {any} */ (
		text.replace(inBritain, (all, /** @type {string} */ word, /** @type {string} */ many) => {
			const found = spelt.find(([uk]) => new RegExp(`^${uk}$`, "i").test(word));
			const us = (found?.[1] ?? all) + many;
			return word.charAt(0) === word.charAt(0).toUpperCase() ? us.charAt(0).toUpperCase() + us.slice(1) : us;
		})
	);
}

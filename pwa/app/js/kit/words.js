// Terms of the trade that differ between Britain and America.

/** Terms asked for one by one, in British words. @type {{[key: string]: string}} */
const terms = {
	earth: "earth",
	heel: "heel",
	rotor: "rotor arm",
	lead: "plug lead",
	coilLead: "coil lead",
	capsule: "vacuum capsule",
	strobe: "strobe",
	pinking: "pinking",
	staticTiming: "static timing",
	bonnet: "bonnet",
	feeler: "feeler blade",
	petrol: "petrol",
	vernier: "vernier adjuster",
	drive: "skew gear",
	carburettor: "carburettor",
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
	return key in terms ? inEnglish(terms[key]) : key;
}

/** capital is t with a capital first letter. @param {string} key */
export function capital(key) {
	return firstCapital(t(key));
}

/** firstCapital begins a text as a sentence does. @param {string} text */
export const firstCapital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/**
 * What sentences say in Britain and in America. Longer ones stand first; a space stands for a hyphen too.
 * @type {[uk: string, us: string][]}
 */
export const spelt = [
	["high tension", "secondary voltage"],
	["low tension", "primary"],
	["contact breaker points", "breaker points"],
	["coil lead", "coil wire"],
	["plug lead", "plug wire"],
	["earth lead", "ground cable"],
	["rotor arm", "rotor"],
	["sparking plug", "spark plug"],
	["feeler blade", "feeler gauge"],
	["strobe light", "timing light"],
	["strobe", "timing light"],
	["test lamp", "test light"],
	["static timing", "initial timing"],
	["inlet manifold", "intake manifold"],
	["inlet", "intake"],
	["vacuum capsule", "vacuum can"],
	["capsule", "vacuum can"],
	["float and backlash", "end play and backlash"],
	["end float", "end play"],
	["bob weight", "flyweight"],
	["action plate", "weight plate"],
	["skew gear", "helical gear"],
	["offset dog", "offset tang"],
	["slot and tongue", "slot and tang"],
	["tongue", "tang"],
	["vernier adjuster", "octane selector"],
	["vernier", "octane selector"],
	["an earth", "a ground"],
	["earthed", "grounded"],
	["earthing", "grounding"],
	["earth", "ground"],
	["heel", "rubbing block"],
	["baseplate", "breaker plate"],
	["spanners", "wrenches"],
	["spanner", "wrench"],
	["petrol", "gasoline"],
	["carburettor", "carburetor"],
	["bushes", "bushings"],
	["bush", "bushing"],
	["pinking", "pinging"],
	["pinks", "pings"],
	["pink", "ping"],
	["dynamo", "generator"],
	["bonnet", "hood"],
	["handbrake", "parking brake"],
	["headlamp", "headlight"],
	["top gear", "high gear"],
	["gearbox", "transmission"],
	["loom", "wiring harness"],
	["torches", "flashlights"],
	["torch", "flashlight"],
	["tyre", "tire"],
	["paraffin", "kerosene"],
	["silencer", "muffler"],
	["rev counter", "tachometer"],
	["mains lit", "line-lit"],
	["anticlockwise", "counterclockwise"],
	["vapour", "vapor"],
	["fibre", "fiber"],
	["colour", "color"],
	["grey", "gray"],
	["centred", "centered"],
	["centre", "center"],
	["millimetre", "millimeter"],
	["kilometre", "kilometer"],
	["metre", "meter"],
	["labelled", "labeled"],
];
const american = new Map(spelt);
const inBritain = new RegExp(`\\b(${spelt.map(([uk]) => uk.replace(/ /g, "[- ]")).join("|")})(s?)\\b`, "gi");

/** A date, as kit/format.js writes it. */
const dated =
	/\b(\d{1,2}) (January|February|March|April|May|June|July|August|September|October|November|December) (\d{4})/g;

/**
 * inEnglish gives a sentence of ours in the chosen English, degrees Celsius as Fahrenheit in America. What a person
 * typed is never put through it, and neither is a source.
 * @template T @param {T} text anything but a string stays as it is
 * @returns {T}
 */
export function inEnglish(text) {
	if (spoken !== "us" || typeof text !== "string") return text;
	return /** @type {any} */ (
		text
			.replace(inBritain, (_, /** @type {string} */ word, /** @type {string} */ many) => {
				const us = american.get(word.toLowerCase().replace(/-/g, " ")) + many;
				return word.charAt(0) === word.charAt(0).toUpperCase() ? us.charAt(0).toUpperCase() + us.slice(1) : us;
			})
			.replace(dated, "$2 $1, $3")
			.replace(/([-−]?\d+(?:\.\d+)?) °C/g, (_, /** @type {string} */ c) => `${fahrenheit(c)} °F`)
	);
}

/** @param {string} celsius */
const fahrenheit = (celsius) => Math.round(Number(celsius.replace("−", "-")) * 1.8 + 32); // exact, to the degree

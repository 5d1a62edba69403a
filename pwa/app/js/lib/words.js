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

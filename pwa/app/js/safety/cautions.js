// The customary cautions of the trade, each once. A step names those that
// apply to it; they are shown before its action. All are common practice;
// the car's own manual, local rules and licensed practice come first.

import { inEnglish } from "../kit/words.js";

/** @type {{[id: string]: string}} */
const texts = {
	strobe: "Under the strobe fan, belts and pulley look still. They are not. Cables clear of them; no ties, sleeves, rings, watch or long hair.",
	fan: "An electric fan can start by itself, even with the engine stopped.",
	highTension:
		"High tension jerks the hand into the fan. Do not touch any lead; dry hands, insulated pliers. With a pacemaker leave live ignition to others.",
	brake: "Handbrake on, out of gear or in park, wheels chocked, level ground. Someone at the wheel knows how to stop it.",
	byHand: "Plugs out and coil feed off before the engine is turned by hand. It can kick back: keep clear of the spanner. Turned by pulling the car in gear, the brake is off: chocks ready.",
	byHandLive:
		"Ignition on while it is turned: only with the plugs out and the coil lead on earth, so that it cannot fire. A spark may jump: no fuel, no vapour near. Hands clear of fan and spanner.",
	stop: "Never the starter with the stop in the hole: it breaks piston and thread. Turn by hand, gently.",
	carbonMonoxide: "Exhaust gas kills in minutes. Doors open, gas led outside, alarm on. Never with the door down.",
	fuel: "No smoking, no flame, extinguisher in reach. Dry up spilt petrol before any spark. Open plug holes give off vapour. Coil off to pour fuel in.",
	hot: "Hot: exhaust manifold, radiator cap, coil, ballast, bulbs.",
	battery: "Earth lead off first and on last. A battery gives off gas and holds acid.",
	ignitionOn: "Ignition on and engine still heats coil, ballast and thin wires. Two minutes, then off.",
	overAdvance:
		"Too much advance breaks pistons, under load and on poor fuel within seconds. At the first pinking back off. Too late overheats the exhaust.",
	pipe: "Plug the pipe with something cold, such as a golf tee. Fingers out of the fan’s way.",
	road: "A passenger takes notes; the driver never touches the phone. Insured, legal speeds, no repeated full throttle.",
	highIdle: "High speed: stand aside of the fan’s plane, 20 seconds at a time, watch the temperature.",
	oldParts:
		"Do not open old condensers and coils: their oil may hold PCB. Old heat shields may be asbestos (both from memory of trade teaching). Gloves.",
	solvents: "No solvent or grease on brake or clutch. Eye protection.",
	bench: "Guard over the chuck, distributor clamped tight, no gloves near it. High tension kept short to earth and covered. Ventilate: sparks make ozone.",
	people: "Children and animals out. Someone held by a shock: switch off before touching them.",
	law: "Set within the rules of your country; emission limits may fix the timing.",
	phone: "Put the phone HERE: readable, and where it cannot fall into the fan.",
};

/** The cautions, in the English now chosen. @returns {{[id: string]: string}} */
export const cautions = () => Object.fromEntries(Object.entries(texts).map(([id, text]) => [id, inEnglish(text)]));

/**
 * cautionName is what a caution is called once it was read, beside its sign: the hazard in at most four words, so that
 * three of them have room in two lines (chosen).
 * @returns {{[id: string]: string}}
 */
export const cautionName = () => ({
	strobe: "Fan and belts turn",
	fan: "Fan can start",
	highTension: "High tension",
	brake: "Handbrake on, chocks",
	byHand: "Engine can kick back",
	byHandLive: "Ignition on: hands clear",
	stop: "Stop in: no starter",
	carbonMonoxide: "Exhaust gas kills",
	fuel: "Fuel: no flame",
	hot: "Hot parts",
	battery: "Battery: gas, acid",
	ignitionOn: "Ignition on: two minutes",
	overAdvance: "Too much advance",
	pipe: "Fingers clear of fan",
	road: "Driver: no phone",
	highIdle: "High speed: 20 seconds",
	oldParts: "Poison in old parts",
	solvents: "Brakes: no grease",
	bench: "Bench: guard, no gloves",
	people: "Children out",
	law: "Local rules",
	phone: "Phone clear of fan",
});

/** Every id, for those who check. */
export const cautionNames = () => Object.keys(texts);

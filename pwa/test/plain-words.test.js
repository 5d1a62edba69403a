// Short plain words, one name for one thing, and each English whole by itself.

import assert from "node:assert/strict";
import { after, test } from "node:test";
import { glossary } from "../app/js/help/glossary.js";
import { inEnglish, speak } from "../app/js/kit/words.js";
import { saidByCalculations, saidByTheApp } from "./said.js";

after(() => speak("uk"));

const said = [...saidByTheApp, ...saidByCalculations];

/** Not a name for the program alone. @param {{text: string}} one */
const isForReaders = ({ text }) => /\w [\w“]/.test(text) && !/^[\w.-]+$/.test(text);

/** Literary turns, and second names of things that have one already. What to say stands beside each. */
const refused = {
	repair: /\bmend(s|ed|ing)?\b/i,
	"no figure in the book": /\bbook('s|’s)? (is )?silent|\bsilent book/i,
	"the last figure is used": /\bvalue (there )?is held\b|end value held/i,
	"weights fully in": /\bweights (are )?(at )?home\b|\bcom(e|ing) home\b/i,
	"two versions": /\bkept cop(y|ies)\b/i,
	"what would show this wrong": /\bdisproved by\b/i,
	sync: /\bme(e|)t(s|ing)? the server\b/i,
	"next: readings": /\bon to the readings\b/i,
	"under Facts": /\bamong the facts\b/i,
	"start again": /\banew today\b|\bbegin anew\b/i,
	"wear out early": /\bdie young\b/i,
	faulty: /\bguilty\b/i,
	overheat: /\bcook(s|ing)?\b/i,
	"all the time": /\bfor ever\b/i,
	"the road test decides": /\blast word\b/i,
	"comes out of": /\bbreathes?\b/i,
	"do not touch any lead": /\btouch no lead\b|\bnever two\b/i,
	"choke off": /\bchoke fully in\b/i,
	"9 times out of 10": /\bhold the truth\b/i,
	"tighten lightly": /\bnip the clamp\b/i,
	"from where": /\bwhence\b/i,
	loosen: /\bslacken/i,
	idle: /\btickover\b/i,
	"coil lead": /\bking lead\b/i,
	capsule: /\bvacuum unit\b/i,
	"put back": /\brestore list\b/i,
	strobe: /\b(strobe|timing|dial-back) lamp\b/i,
	"test lamp": /\b(by|with) (the |a )?lamp\b|\bthe lamp\b/i,
	stop: /\blimit plate\b/i,
	"order of work": /\bthe chain (is|as)\b|\bin the chain\b|\bup the chain\b/i,
	pipe: /\bretard hose\b/i,
	"show the curve": /\btells? (most of )?the story\b/i,
	"left out": /\bset aside as wild\b/i,
};

test("refused turns do not come back", () => {
	assert.ok(saidByTheApp.length > 2000 && saidByCalculations.length > 1000);
	const found = said.filter(isForReaders).flatMap(({ where, text }) =>
		Object.entries(refused)
			.filter(([, turn]) => turn.test(text))
			.map(([better]) => `${where}: “${text}”; say ${better}`),
	);
	assert.deepEqual(found, []);
});

/** Words that only Britain says, and only America. */
const british =
	/(?<![\w-])(earth(ed|ing)?|spanners?|bonnet|rotor arm|plug leads?|coil lead|(high|low)[- ]tension|petrol|carburettors?|vernier|bush(es)?|end float|bob-weights?|pink(s|ing)|strobe|test lamp|dynamo|feeler blades?|sparking plugs?|heel|baseplate|inlet|handbrake|headlamps?|anticlockwise|colou?red?(?<=colour\w*)|grey|centred?|capsule|vapour|fibre|metres?|loom|torch|tyres?|gearbox|paraffin|skew gear|static timing|tickover|windscreen|silencer)(?![\w-])/i;
const american =
	/(?<![\w-])((?<!level )ground(ed|ing)?|wrench(es)?|hood|fender|spark plugs?|plug wires?|coil wire|gasoline|carburetors?|bushings?|end play|flyweights?|pinging|timing light|test light|feeler gauges?|rubbing block|breaker plate|intake manifold|parking brake|counterclockwise|colors?|gray|center(ed)?|vacuum can|vapor|fiber|harness|flashlight|tires?|transmission|kerosene|helical gear|initial timing)(?![\w-])/i;

/** Said to be British where both kinds must stand: a gear's old stored name, the examples, a source. */
const both = /^(helical gear|ground, pinging|earth, pinking)$/;

test("in America no sentence keeps a British word", () => {
	speak("us");
	const left = said.filter(isForReaders).filter(({ text }) => !both.test(text) && british.test(inEnglish(text)));
	assert.deepEqual(
		left.map(({ where, text }) => `${where}: ${inEnglish(text)}`),
		[],
	);
	for (const [, , meaning] of glossary) assert.doesNotMatch(inEnglish(meaning), british);
});

test("in Britain no sentence has an American word", () => {
	speak("uk");
	const left = said.filter(isForReaders).filter(({ text }) => !both.test(text) && american.test(inEnglish(text)));
	assert.deepEqual(
		left.map(({ where, text }) => `${where}: ${inEnglish(text)}`),
		[],
	);
	for (const [, , meaning] of glossary) assert.doesNotMatch(meaning, american);
});

test("dates and temperatures follow", () => {
	speak("us");
	assert.equal(inEnglish("Begun on 18 May 2024: air at 10 °C."), "Begun on May 18, 2024: air at 50 °F.");
	speak("uk");
	assert.equal(inEnglish("Begun on 18 May 2024: air at 10 °C."), "Begun on 18 May 2024: air at 10 °C.");
});

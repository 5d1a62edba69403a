// Said at once, in plain words, where the browser will not keep the app.

import { h } from "./dom.js";
import { canWorkOffline } from "./platform.js";
import { mark } from "./mark.js";

/** notOffline gives the notice, or null where the app can be kept. */
export function notOffline() {
	if (canWorkOffline) return null;
	const secure = globalThis.isSecureContext;
	return h(
		"aside",
		{ class: "boxed not-offline" },
		h("p", null, mark("watch"), " ", h("strong", null, "Works while connected only.")),
		h(
			"p",
			null,
			secure
				? "This browser keeps no apps for use without a network (private windows never do). What you type is still saved on this phone. Open it in an ordinary window."
				: `This page came over plain HTTP, so the browser will not keep the app for use without a network. What you type is still saved on this phone, under the address ${location.origin}.`,
		),
		secure ? null : waysOut(),
		h("p", null, h("a", { href: "#/help/offline" }, "How offline works")),
	);
}

const trustPort = 7374; // where the server shows its certificate unless it was told otherwise

/** The three ways to an address that browsers trust. */
function waysOut() {
	const page = `http://${location.hostname}:${trustPort}/`;
	return h(
		"details",
		null,
		h("summary", null, "Three ways to work offline"),
		h(
			"ol",
			{ class: "ways" },
			h(
				"li",
				null,
				h("strong", null, "The garage’s own certificate. "),
				"On the server run ",
				h("code", null, "pointsmith trust"),
				", start it again, then on this phone follow the steps at ",
				h("a", { href: page }, `${location.hostname}:${trustPort}`),
				".",
			),
			h(
				"li",
				null,
				h("strong", null, "A real certificate. "),
				"Where the server has a name of its own on the internet: ",
				h("code", null, "pointsmith serve -cert FILE -key FILE"),
				".",
			),
			h(
				"li",
				null,
				h("strong", null, "A plain web host. "),
				h("code", null, "pointsmith site FOLDER"),
				" writes the whole app as files for any host with https. The garage then stays on the phone and moves by file or link.",
			),
		),
	);
}

// Said at once, in plain words, where the browser will not keep the app.

import { h } from "../lib/dom.js";
import { canWorkOffline } from "../platform.js";
import { mark } from "./marks.js";

/** notOffline gives the notice, or null where the app can be kept. */
export function notOffline() {
	if (canWorkOffline) return null;
	const secure = globalThis.isSecureContext;
	return h("aside", { class: "boxed not-offline" },
		h("p", null, mark("watch"), " ", h("strong", null, "Works while connected only.")),
		h("p", null, secure
			? "This browser keeps no apps for use without a network (private windows never do). What you type is still saved on this phone."
			: `This page came over plain HTTP, so the browser will not keep the app for use without a network. What you type is still saved on this phone, under the address ${location.origin}.`),
		h("p", null, secure ? "Open it in an ordinary window." : "To work offline, open it over https, or on the machine that runs the server, at localhost."),
		h("p", null, h("a", { href: "#/help/offline" }, "How offline works")));
}

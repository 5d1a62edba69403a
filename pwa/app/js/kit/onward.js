// The one thing to do next on a page, where it follows from what is judged.

import { fill, h } from "./dom.js";
import { nextButton } from "./field.js";

/** onward gives its place, and to(label, href), which leaves the button alone while it says the same. */
export function onward() {
	const element = h("div", { class: "onward-room" });
	let said = "";
	return {
		element,
		to(label = "", href = "") {
			if (said === label + href) return; // it may be under the finger
			said = label + href;
			fill(element, label ? nextButton(label, href) : null);
		},
	};
}

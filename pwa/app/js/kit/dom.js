// Building elements. Everything a person typed goes through text nodes and
// attributes here, never through markup, so no name can become a script.

/**
 * @typedef {Node | string | number | null | undefined | false} Child
 * @typedef {Child | Child[] | (Child | Child[])[]} Children
 * @typedef {{[event: string]: (event: any) => void}} Handlers
 * @typedef {{[name: string]: unknown}} Attributes
 */

const svgSpace = "http://www.w3.org/2000/svg";

/**
 * h makes an HTML element. Attributes that are false, null or undefined are
 * left out, true becomes an empty attribute, `on` takes {event: function},
 * `css` takes {property: value} (set through CSSOM, which the page's content
 * security policy allows; style attributes it does not).
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Attributes | null} [attrs]
 * @param {...Children} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function h(tag, attrs, ...children) {
	const element = document.createElement(tag);
	append(element, children);
	setAll(element, attrs ?? {});
	return element;
}

/**
 * svg makes an SVG element, with the same rules for attributes as h.
 * @template {keyof SVGElementTagNameMap} K
 * @param {K} tag
 * @param {Attributes | null} [attrs]
 * @param {...Children} children
 * @returns {SVGElementTagNameMap[K]}
 */
export function svg(tag, attrs, ...children) {
	const element = /** @type {SVGElementTagNameMap[K]} */ (document.createElementNS(svgSpace, tag));
	append(element, children);
	setAll(element, attrs ?? {});
	return element;
}

/**
 * fill replaces everything inside parent.
 * @param {Element | DocumentFragment} parent
 * @param {...Children} children
 */
export function fill(parent, ...children) {
	parent.replaceChildren();
	append(parent, children);
}

/**
 * @param {Element | DocumentFragment} parent
 * @param {unknown[]} children
 */
function append(parent, children) {
	for (const child of children.flat(Infinity)) {
		if (child === null || child === undefined || child === false) continue;
		parent.append(child instanceof Node ? child : document.createTextNode(String(child)));
	}
}

/**
 * @param {HTMLElement | SVGElement} element
 * @param {Attributes} attrs
 */
function setAll(element, attrs) {
	for (const [name, value] of Object.entries(attrs)) {
		if (value === false || value === null || value === undefined) continue;
		if (name === "on") {
			for (const [event, handler] of Object.entries(/** @type {Handlers} */ (value)))
				element.addEventListener(event, handler);
		} else if (name === "css") {
			for (const [property, text] of Object.entries(/** @type {object} */ (value)))
				element.style.setProperty(property, String(text));
		} else if (name === "value" && "value" in element) {
			element.value = String(value); // the property: an attribute would not change a select
		} else {
			element.setAttribute(name, value === true ? "" : String(value));
		}
	}
}

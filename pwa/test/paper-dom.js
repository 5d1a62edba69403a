// A document on paper: just enough of one to build elements in a test and to
// read what they say. No layout, no style.

class PaperNode {
	/** @param {string} text */
	constructor(text = "") {
		this.data = text;
		/** @type {PaperElement | null} */
		this.parentNode = null;
	}
	get textContent() {
		return this.data;
	}
}

class PaperElement extends PaperNode {
	/** @param {string} name */
	constructor(name) {
		super();
		this.localName = name;
		/** @type {PaperNode[]} */
		this.childNodes = [];
		/** @type {Map<string, string>} */
		this.attributes = new Map();
		/** @type {{[event: string]: ((event: any) => void)[]}} */
		this.listeners = {};
		this.style = { setProperty() {} };
		this.disabled = false;
		this.clientWidth = 358;
		this.isConnected = true;
	}
	get textContent() {
		return this.childNodes.map((child) => child.textContent).join("");
	}
	set textContent(text) {
		this.childNodes = [new PaperNode(text)];
	}
	/** @param {...PaperNode} nodes */
	append(...nodes) {
		for (const node of nodes) {
			const old = node.parentNode;
			if (old) old.childNodes = old.childNodes.filter((one) => one !== node);
			node.parentNode = this;
			this.childNodes.push(node);
		}
	}
	replaceChildren() {
		this.childNodes = [];
	}
	/** @param {string} name @param {string} value */
	setAttribute(name, value) {
		this.attributes.set(name, String(value));
	}
	/** @param {string} name */
	getAttribute(name) {
		return this.attributes.get(name) ?? null;
	}
	/** @param {string} event @param {(event: any) => void} fn */
	addEventListener(event, fn) {
		(this.listeners[event] ??= []).push(fn);
	}
	/** @param {string} event @param {object} [detail] */
	fire(event, detail = {}) {
		for (const fn of this.listeners[event] ?? [])
			fn({ target: this, currentTarget: this, preventDefault() {}, ...detail });
	}
	getBoundingClientRect() {
		return { left: 0, top: 0, width: this.clientWidth, height: 300 };
	}
	querySelector() {
		return null;
	}
	/** @param {(element: PaperElement) => boolean} fits @returns {PaperElement[]} */
	all(fits) {
		return this.childNodes.flatMap((child) =>
			child instanceof PaperElement ? [...(fits(child) ? [child] : []), ...child.all(fits)] : [],
		);
	}
}

/** Puts the paper document where the app's modules look for theirs. */
export function layOutPaper() {
	Object.assign(globalThis, {
		Node: PaperNode,
		document: {
			createElement: (/** @type {string} */ name) => new PaperElement(name),
			createElementNS: (/** @type {string} */ _space, /** @type {string} */ name) => new PaperElement(name),
			createTextNode: (/** @type {string} */ text) => new PaperNode(text),
		},
		ResizeObserver: class {
			observe() {}
		},
		getComputedStyle: () => ({ fontSize: "15px" }),
		innerHeight: 844,
		addEventListener() {},
		removeEventListener() {},
	});
}

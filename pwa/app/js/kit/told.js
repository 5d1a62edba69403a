// What somebody else wrote, on the page as text alone.

import { h } from "./dom.js";

/** told is text from a card, a file or another phone: plain, whatever is in it. @param {string | number} text */
export const told = (text) => h("bdi", null, text);

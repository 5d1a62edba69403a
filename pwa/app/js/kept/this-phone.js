// Facts about this phone, not about any car: how far it has met the server,
// what it is called, where the person is. They are not sent anywhere.

import { read, revise, write } from "./db.js";
import { hear, tell } from "./tabs.js";

export const thisPhone = {
	/**
	 * get gives a fact about this phone (the sync cursor, the key of the garage).
	 * @param {string} key
	 * @returns {Promise<any>}
	 */
	get: (key) => read("phone", (store) => store.get(key)),

	/** put keeps a fact about this phone; undefined forgets it. @param {string} key @param {unknown} value */
	put(key, value) {
		return write((store) => {
			if (value === undefined) store("phone").delete(key);
			else store("phone").put(value, key);
		});
	},

	/**
	 * change makes of a fact about this phone what work makes of it, whichever
	 * tab kept it last, and gives the new one.
	 * @param {string} key @param {(value: any) => any} work
	 * @returns {Promise<any>}
	 */
	async change(key, work) {
		const value = await revise("phone", key, work);
		tell({ fact: key });
		return value;
	},

	/** onChange calls fn with the key of a fact that another tab has changed so. @param {(key: string) => void} fn */
	onChange(fn) {
		hear(({ fact }) => {
			if (fact) fn(fact);
		});
	},
};

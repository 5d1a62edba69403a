// What is half typed, kept at every key until it is saved as what it is to be.

import { read, write } from "./db.js";
import { Unsaved, unsaved } from "./unsaved.js";

const held = new Unsaved((key, value) => drafts.put(key, value));

export const drafts = {
	/** get gives what was half typed under a key. @param {string} key @returns {Promise<any>} */
	get: (key) => read("drafts", (store) => store.get(key)),

	/**
	 * put keeps something half typed; undefined forgets it. It never fails:
	 * what the phone will not take is counted by unsaved, and stays on the
	 * screen.
	 * @param {string} key @param {unknown} value
	 */
	async put(key, value) {
		try {
			await write((store) => {
				if (value === undefined) store("drafts").delete(key);
				else store("drafts").put(value, key);
			});
			if (!held.delete(key)) return;
		} catch (error) {
			held.add(key, value);
			held.refused(error);
		}
		unsaved.tell();
	},
};

// A name typed for something new in the garage: kept half typed, refused where
// it cannot be, and never lost where the phone has no room.

import { drafts } from "../kept/drafts.js";
import { nameProblem } from "../kept/car-name.js";
import { textField } from "../kit/field.js";

/**
 * nameForm gives the field, and add for its button.
 * @param {{label: string, name: string, draftKey: string, what: string, make: (name: string) => Promise<string>, then:
 *   (id: string) => void}} options what: as in "to keep this car"; make: gives the id of what is new
 */
export async function nameForm({ label, name, draftKey, what, make, then }) {
	let typed = String((await drafts.get(draftKey).catch(() => "")) ?? "");
	const add = async () => {
		const problem = nameProblem(typed);
		field.setProblem(problem);
		if (problem) return field.input.focus();
		const id = await make(typed).catch(() => null);
		if (!id)
			return field.setProblem({
				field: "name",
				problem: `the phone has no room to keep ${what}`,
				limit: "some free storage",
				do: "Free some room and add it again. The name stays here as long as the app is open.",
			});
		await drafts.put(draftKey, undefined);
		then(id);
	};
	const field = textField({
		label,
		name,
		value: typed,
		onEnter: add,
		onInput: (text) => {
			typed = text;
			field.setProblem(text.trim() === "" ? null : nameProblem(text));
			drafts.put(draftKey, text);
		},
	});
	return { element: field.element, add, isHalf: typed !== "" };
}

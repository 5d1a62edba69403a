// A firing order as people write it: 1-3-4-2, 1 3 4 2, 1,3,4,2 or 1342.

/**
 * firingOrderIn reads the cylinders in turn. Without anything between them every digit is a cylinder, so from ten
 * cylinders on something has to stand between.
 * @param {string | undefined} text
 */
export function firingOrderIn(text) {
	const parts = (text ?? "").match(/\d+/g) ?? [];
	return (parts.length === 1 && parts[0].length <= 9 ? [...parts[0]] : parts).map(Number);
}

/** firingOrderShown writes it in one style, and what is none as it was typed. @param {string} text */
export function firingOrderShown(text) {
	const order = firingOrderIn(text);
	return order.length > 1 ? order.join("-") : text;
}

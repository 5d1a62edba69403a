// Addresses of the app: all behind the #, so that one page serves every one of
// them. Which page an address leads to stands in frame/routes.js.

/**
 * address writes the address of a route: address("car", id, "book").
 * @param {...string} parts
 */
export function address(...parts) {
	return "#/" + parts.filter(Boolean).map(encodeURIComponent).join("/");
}

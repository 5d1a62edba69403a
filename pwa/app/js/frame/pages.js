// Where pages come from: each is a module ROOM/NAME-page.js. In the bundle that
// go generate makes another module stands here (cmd/internal/gen/bundle.go).

/**
 * pageOf gives a page's module.
 * @param {string} room @param {string} name @returns {Promise<any>}
 */
export const pageOf = (room, name) => import(`../${room}/${name}-page.js`);

/** fetchPages brings all other pages once the first one stands; here each comes when it is asked for. */
export const fetchPages = async () => {};

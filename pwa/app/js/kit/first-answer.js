// A page is shown once its first answer stands in it, so that nothing moves
// under a finger; but nobody looks at an empty screen for long.

const longest = 800; // ms; a slow phone answers most pages in less. Chosen

/** For an answer that takes longer than others, or whose figure would push a whole page down. ms; chosen */
export const patient = 2_500;

/**
 * firstAnswer ends with the work, or when the page can wait no longer.
 * @param {Promise<unknown>} work @param {number} [most] ms: patient where one is to wait longer
 */
export const firstAnswer = (work, most = longest) =>
	Promise.race([work, new Promise((done) => setTimeout(done, most))]);

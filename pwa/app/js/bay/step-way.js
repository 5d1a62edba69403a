// Where a step leads: to the page it is done on.

import { address } from "../kit/address.js";

/** @param {Doc<Car>} car @param {string} page "do/static" or the name of a page */
export const pageAddress = (car, page) => address("car", car.id, ...page.split("/"));

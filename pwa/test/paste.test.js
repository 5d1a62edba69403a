import assert from "node:assert/strict";
import { test } from "node:test";
import { looksLikeTable } from "../app/js/book/paste.js";

// How people write a whole table is held by calc/figures/sentences_test.go.
test("a single number pasted in a cell is left to the cell", () => {
	for (const cell of ["1000", "7½", "7 1/2", "1,500", "1 500", "-1", "0,5", "abc", "see page 12"])
		assert.equal(looksLikeTable(cell), false, cell);
	for (const table of ["1000 7-9", "300\t0\t1", "7-9 at 1000", "max 14 at 2500", "300;0;1", "300 0\n700 4"])
		assert.equal(looksLikeTable(table), true, table);
});

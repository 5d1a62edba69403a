// Facts, visits and checks of one car’s electrics, as several tests take them.

import assert from "node:assert/strict";

export const fact = (value, unit = "", source = "measured") => ({ value, unit, source, note: "" });

export const visit = (id, facts, more = {}) => ({
	kind: "visit",
	id,
	revision: "",
	changedAt: "2024-01-01T00:00:00Z",
	deleted: false,
	body: { carId: "c", distributorId: "d", date: "2024-01-01", title: "", notes: "", sets: [], facts, ...more },
});

export const near = (a, b, most = 1e-9) => assert.ok(Math.abs(a - b) <= most, `${a} is not ${b}`);

export const spread = {
	id: "B27",
	title: "spread",
	kind: "figure",
	unit: "%",
	accept: "",
	limit: { passMax: 10, watchMax: 20 },
};

export const play = {
	id: "B1",
	title: "play",
	kind: "figure",
	unit: "in",
	accept: "",
	limit: { passMax: 0.003, watchMax: 0.006 },
};

export const look = { id: "B5", title: "return", kind: "look", accept: "" };

export const checks = [
	{ id: "B27", title: "Compression", group: "engine", place: "car", how: "", failText: "", measures: [spread] },
	{ id: "B1", title: "Play", group: "distributor", place: "bench", how: "", failText: "", measures: [play] },
	{ id: "B5", title: "Return", group: "distributor", place: "either", how: "", failText: "", measures: [look] },
];

export const four = {
	nominalV: 12,
	earth: "positive",
	ballasted: false,
	electronic: false,
	twin: false,
	cylinders: 4,
	altitudeM: null,
};

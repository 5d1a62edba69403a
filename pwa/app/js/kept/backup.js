// The whole garage as one file. Everything that comes in from a file passes
// through readBackup: the one gate. The server's side is web/garage_file.go;
// what becomes of it is in take-in.js.

import { shapes } from "../../made/shapes.js";
import { garage } from "./garage.js";
import { readPhotos } from "./photos/photo-file.js";
import { allCopies } from "./copies.js";
import { shapeTrouble } from "./whole.js";
import { nameProblem } from "./car-name.js";

const format = "pointsmith garage 1"; // part of files people keep: a new number means a new shape
const most = { bytes: 64 * 1024 * 1024, documents: 20_000 }; // as the server has them
const kinds = Object.keys(shapes);

/**
 * @typedef {object} GarageFile what a file that passed the gate holds
 * @property {string} made when, RFC 3339, or ""
 * @property {AnyDoc[]} documents removed ones too; body null: all that is known is that it is removed
 * @property {(AnyDoc & {device: string})[]} copies that wait for a choice
 * @property {Uint8Array<ArrayBuffer>[]} [photos] each what its id says
 * @property {number} [leftOut] photos that are not in the file
 */

/**
 * makeBackup gives the text of the file: every document, removed ones too, the copies that wait for a choice, and the
 * photos where they are to go along.
 * @param {{photos?: import("./photos/photo-file.js").FilePhoto[], left?: number, isWanted?: (doc: AnyDoc) =>
 *   boolean}} [how] left: photos that stay out; isWanted: these documents alone
 */
export function makeBackup({ photos = [], left = 0, isWanted = () => true } = {}) {
	const documents = garage
		.everything()
		.filter(isWanted)
		.map(({ kind, id, changedAt, deleted, body }) => ({ kind, id, changedAt, deleted, body: body ?? {} }));
	const kept = allCopies()
		.filter(isWanted)
		.map(({ kind, id, changedAt, body, revision, device }) => ({
			kind,
			id,
			changedAt,
			deleted: false,
			body,
			revision,
			device: [...(device ?? "")].slice(0, 80).join(""),
		}));
	const pictures = { ...(photos.length ? { photos } : {}), ...(left ? { photosLeftOut: left } : {}) };
	return JSON.stringify({ format, made: new Date().toISOString(), documents, kept, ...pictures }, null, "\t");
}

/**
 * makeCarFile gives the same file with one car alone, or one distributor: itself, what is in it, its visits. What was
 * read of its distributor in another car stays out.
 * @param {string} id
 */
export function makeCarFile(id) {
	const isUnit = garage.isUnit(id);
	const unit = isUnit ? id : garage.get("car", id)?.body.distributorId;
	/** @param {Visit} visit */
	const isOwn = ({ carId, distributorId }) => (carId ? carId === id : Boolean(unit) && distributorId === unit);
	const isWanted = (
		/** @type {{kind: Kind, id: string, body: any, deleted?: boolean}} */ { kind, id: one, body, deleted },
	) => {
		if (deleted || !body) return false;
		if (kind === "visit") return isUnit ? body.distributorId === id : isOwn(body);
		return kind === "car" ? one === id : one === unit;
	};
	return makeBackup({ isWanted });
}

/**
 * troubleIn gives what is wrong with the first bad one of a list; null where none is.
 * @param {string} name of one @param {any[]} all @param {(one: any) => string} troubleOf
 */
function troubleIn(name, all, troubleOf) {
	for (const [index, one] of all.entries()) {
		const wrong = troubleOf(one);
		if (wrong) return `${name} ${index + 1} of the file: ${wrong}`;
	}
	return null;
}

/**
 * readBackup checks a file and gives what it holds, or what is wrong with it.
 * @param {string} text
 * @returns {GarageFile & {problem: Problem | null}}
 */
export function readBackup(text) {
	/** @param {string} title @param {string} limit @param {string} action */
	const refuse = (title, limit, action) => ({
		made: "",
		documents: [],
		copies: [],
		photos: [],
		problem: { title, limit, do: action },
	});
	if (text.length > most.bytes)
		return refuse("The file is too large", "64 million characters", "Choose a file that this app exported.");
	let data;
	try {
		data = JSON.parse(text);
	} catch {
		return refuse(
			"The file is not whole, or not a garage",
			"JSON as exported here",
			"Export it again, or fetch it again: a part may be missing.",
		);
	}
	const kept = data?.kept ?? []; // files of before there were copies in them have none
	if (data?.format !== format || !Array.isArray(data.documents) || !Array.isArray(kept))
		return refuse(
			"The file is not an exported garage",
			`"format": "${format}"`,
			"Choose a file that this app exported.",
		);
	if (data.documents.length > most.documents || kept.length > most.documents)
		return refuse("The file holds too many documents", `${most.documents}`, "Split it.");
	const found =
		troubleIn("Document", data.documents, (doc) =>
			isOnlyRemoved(doc) ? placeTrouble(doc) : documentTrouble(doc),
		) ?? troubleIn("Second version", kept, (copy) => documentTrouble(copy) || copyTrouble(copy));
	if (found) return refuse(found, "documents as exported here", "Nothing was taken in. Export the garage again.");
	const { photos, wrong } = readPhotos(data.photos);
	if (wrong)
		return refuse(`Photos: ${wrong}`, "photos as exported here", "Nothing was taken in. Export the garage again.");
	return {
		made: typeof data.made === "string" && !Number.isNaN(Date.parse(data.made)) ? data.made : "",
		documents: data.documents.map((/** @type {AnyDoc} */ doc) => ({
			...plain(doc),
			body: isOnlyRemoved(doc) ? null : doc.body,
		})),
		copies: kept.map((/** @type {any} */ copy) => ({
			...plain(copy),
			deleted: false,
			revision: copy.revision,
			device: copy.device ?? "",
		})),
		photos,
		leftOut: Number.isInteger(data.photosLeftOut) && data.photosLeftOut > 0 ? data.photosLeftOut : 0,
		problem: null,
	};
}

/** @param {AnyDoc} doc @returns {AnyDoc} */
const plain = (doc) => ({
	kind: doc.kind,
	id: doc.id,
	changedAt: doc.changedAt,
	deleted: doc.deleted === true,
	body: doc.body,
	revision: "",
});

/** A deletion of which nothing else is known. @param {any} doc */
const isOnlyRemoved = (doc) =>
	doc?.deleted === true &&
	typeof doc.body === "object" &&
	doc.body !== null &&
	!Array.isArray(doc.body) &&
	Object.keys(doc.body).length === 0;

/** @param {any} doc @returns {string} what is wrong, or "" */
function placeTrouble(doc) {
	if (!kinds.includes(doc?.kind)) return `its kind is none of ${kinds.join(", ")}`;
	if (typeof doc.id !== "string" || !/^[a-z0-9]{16,32}$/.test(doc.id)) return "its id is not 16 to 32 of a–z and 0–9";
	if (typeof doc.changedAt !== "string" || Number.isNaN(Date.parse(doc.changedAt)))
		return "it does not say when it was changed";
	return "";
}

/** @param {any} doc @returns {string} what is wrong, or "" */
function documentTrouble(doc) {
	const wrong = placeTrouble(doc);
	if (wrong) return wrong;
	if (typeof doc.body !== "object" || doc.body === null || Array.isArray(doc.body)) return "it is empty";
	const { name } = doc.body;
	if (doc.kind === "car" && (typeof name !== "string" || nameProblem(name))) return "its name cannot be used";
	if (doc.kind === "distributor" && name && (typeof name !== "string" || nameProblem(name)))
		return "its name cannot be used";
	return shapeTrouble(doc.kind, doc.body);
}

/** @param {any} copy @returns {string} */
function copyTrouble(copy) {
	if (typeof copy.revision !== "string" || !/^[a-z0-9]{1,64}$/.test(copy.revision))
		return "its revision is not 1 to 64 of a–z and 0–9";
	return copy.device === undefined || (typeof copy.device === "string" && copy.device.length <= 80)
		? ""
		: "it does not say in words where it comes from";
}

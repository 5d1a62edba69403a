// Package card packs a setup card (the sheet that is passed on: car,
// distributor, the book's table, the figures as set, the curves, who set it
// and when) into a link fragment, and opens such a fragment again. The Card
// struct is the contract between the app and the calculation.
//
// A fragment is base64url, without padding, of
//
//	byte 0     version of the payload (1; 2 where the card says how the car
//	           stands; 3 where it says what was done)
//	bytes 1-2  length of the body in bytes, high byte first
//	byte 3     check of bytes 0-2: the low byte of their CRC-32
//	bytes 4-7  CRC-32 (IEEE 802.3) of the body, high byte first
//	the rest   the body: raw deflate (RFC 1951) with the version's dictionary
//
// The first eight bytes keep this shape in every version, so that an old
// program can tell a cut link from a damaged one and both from a newer one.
// Inside is JSON with short names and columns in place of rows.
// Shape, dictionary and names are part of the format: links already sent
// must open for ever, so they change only together with the version.
//
// What a link can do to the reader is bounded: a fragment longer than
// MaxCharacters is refused unread, and inflating stops at maxPayload bytes.
//
// Text: control characters, marks that turn the writing direction, invisible
// format characters and line breaks are refused everywhere, both when a link
// is made and when one is opened. Names (car, distributor) follow the
// garage's rule and hold no < or > either. All other text may hold < > & and
// quotes ("idle <800"); it is plain text and must be shown as such. Letters
// of scripts written right to left are text like any other; the screen has to
// set them apart (as HTML's bdi does).
//
// One payload has one spelling: a payload that this package would have
// written otherwise is refused. The deflate stream around it is not held to
// that, because releases of a compressor differ and links have to outlive
// them.
package card

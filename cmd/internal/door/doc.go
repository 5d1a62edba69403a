// Package door is the small plain-HTTP page beside a garage's HTTPS: a phone
// gets the authority's certificate there, numbered steps for its kind, and a
// tick once it arrived over HTTPS. It carries nothing of the garage.
//
// # The tick
//
// No script runs on a page that anybody on the way could have changed. The
// page holds a small frame that loads itself again every few seconds. In it is
// a picture from the HTTPS side, whose address carries a marker made for this
// visit. Only a browser that accepts the certificate fetches the picture; the
// HTTPS side (see [Door.OverTLS]) then notes the marker, and the frame shows
// the tick when it is loaded next.
//
// Where the server is answered by a name that stays, there is a picture from
// that name too: the tick sends a browser to the name only when that one came,
// because not every phone finds names under .local.
//
// A person who has clicked through a browser's warning gets the tick too, and
// no offline work, because browsers fetch no service worker that way. The page
// says so beside the tick.
package door

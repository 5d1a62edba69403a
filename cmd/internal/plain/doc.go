// Package plain makes what came from elsewhere (a document, a device, a request)
// fit to be shown: [Text] for one piece of text on a terminal, [JSON] for an
// answer, [Log] for everything that a server logs. A terminal obeys what stands
// in a text: escape sequences move its cursor, rename its window, hide a line.
// None of that leaves here, and nothing is longer than a line should be.
package plain

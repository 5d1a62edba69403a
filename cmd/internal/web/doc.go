// Package web serves Pointsmith over HTTP: the phone app as it is embedded,
// the table of calculations, and the garage's documents.
//
// Make a [Site] with [New], then [Serve] its [Site.Handler] at one or more
// fronts. Package assets makes the app ready, for this server and for a host
// without one.
//
// Everything refused is answered with a problem document (RFC 9457) that names
// the field, the limit and what to do. Assets are minified, compressed and
// hashed once, when the site is made; nothing is generated on disk.
package web

// Package web serves Pointsmith over HTTP: the phone app as it is embedded,
// the table of calculations, and the garage's documents.
//
// Make a [Site] with [New], then [Serve] its [Site.Handler] at one or more
// fronts. [Static] gives the app as files for a host without this server.
//
// Everything refused is answered with a problem document (RFC 9457) that names
// the field, the limit and what to do. Assets are minified, compressed and
// hashed once, when the site is made; nothing is generated on disk.
package web

// Package assets makes the phone app ready to be sent: minified, compressed,
// hashed, with the list that its service worker keeps and the manifest for the
// home screen. [Prepare] does so for a server, [Static] for a host without one.
package assets

//go:build race

package web

// kills: see the file for ordinary builds.
const kills = 80

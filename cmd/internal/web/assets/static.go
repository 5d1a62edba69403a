package assets

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// SitePath is the file that tells the app where it is served from, and marks a
// folder as one that Static's files were written to.
const SitePath = "/site.json"

// A SiteNote is what stands in the file at SitePath.
type SiteNote struct {
	Product string   `json:"product"` // always pointsmith
	Version string   `json:"version"`
	Server  bool     `json:"server"`          // whether there is a garage and an API here
	Files   []string `json:"files,omitempty"` // without a server: all that belongs to the site
}

// A StaticFile is one file of the app for a host without this server.
type StaticFile struct {
	Path    string // relative, with slashes
	Content []byte
}

const pageHead = `<head>`

// metaPolicy is the part of the policy that a page may state itself; whether
// it may be framed is for headers only (CSP Level 3, section 3.3).
func metaPolicy() string {
	rules := slices.DeleteFunc(strings.Split(Policy, "; "), func(rule string) bool {
		return strings.HasPrefix(rule, "frame-ancestors")
	})
	return strings.Join(rules, "; ")
}

// staticNotFound has only a relative link, since the site may lie in a folder:
// the app's own addresses all lie behind #, so this page is for typing slips.
const staticNotFound = `<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><meta name="robots" content="noindex"><title>Not here</title></head>
<body><h1>There is nothing at this address</h1><p>Go to the address you were given for Pointsmith, without what stands behind its last stroke, or try <a href="./">one step up</a>.</p></body></html>
`

// Static gives the whole app as files for any HTTPS host, in the order of
// their paths, the service worker last. The same app and version give the
// same bytes. With compressed there are .br and .gz copies for hosts that can
// use them.
func Static(app fs.FS, version string, compressed bool) ([]StaticFile, error) {
	assets, err := readApp(app)
	if err != nil {
		return nil, err
	}
	if err := addPageHead(assets); err != nil {
		return nil, err
	}
	if assets[enginePath] == nil {
		return nil, errors.New("this program was built without the calculation engine, and a site has no server that could calculate instead; do: run go generate ./... and build again")
	}
	files := filesOf(assets, compressed)
	files = append(files, StaticFile{"404.html", []byte(staticNotFound)})
	var names []string
	for _, f := range files {
		names = append(names, f.Path)
	}
	names = append(names, SitePath[1:])
	if !slices.Contains(names, workerPath[1:]) {
		return nil, errors.New("the app has no service worker")
	}
	slices.Sort(names)
	note, err := json.Marshal(SiteNote{Product: "pointsmith", Version: version, Files: names})
	if err != nil {
		return nil, err
	}
	files = append(files, StaticFile{SitePath[1:], note})
	assets[SitePath] = newAsset(SitePath, note)
	addPrecache(assets)
	return withWorker(files, assets[workerPath].plain.bytes), nil
}

// addPageHead states in the page what the server says in headers.
func addPageHead(assets Files) error {
	page := assets[pagePath].plain.bytes
	head := fmt.Appendf(nil, `%s<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="%s"><meta name="referrer" content="no-referrer">`, pageHead, metaPolicy())
	if bytes.Count(page, []byte(pageHead)) != 1 {
		return errors.New("index.html has no <head> to state the policy in")
	}
	assets[pagePath] = newAsset("index.html", bytes.Replace(page, []byte(pageHead), head, 1))
	return nil
}

func filesOf(assets Files, compressed bool) (files []StaticFile) {
	for address, a := range assets {
		name := strings.TrimPrefix(address, "/")
		if address == pagePath {
			name = "index.html"
		}
		files = append(files, StaticFile{name, a.plain.bytes})
		for suffix, copied := range map[string]coded{".br": a.brotli, ".gz": a.gzip} {
			if compressed && copied.bytes != nil && address != workerPath { // the worker is still to grow
				files = append(files, StaticFile{name + suffix, copied.bytes})
			}
		}
	}
	return files
}

// withWorker puts the finished worker in and last: whoever copies the files
// one by one hands out the new version only when the rest of it is there.
func withWorker(files []StaticFile, worker []byte) []StaticFile {
	files = slices.DeleteFunc(files, func(f StaticFile) bool { return f.Path == workerPath[1:] })
	slices.SortFunc(files, func(a, b StaticFile) int { return strings.Compare(a.Path, b.Path) })
	return append(files, StaticFile{workerPath[1:], worker})
}

package assets

import (
	"encoding/json"
	"strings"
)

const manifestPath = "/manifest.webmanifest"

// A webManifest is what a phone reads when the app is put on its home screen.
// Addresses are relative, so that the app also works from a folder.
type webManifest struct {
	ID              string         `json:"id"`
	Name            string         `json:"name"`
	ShortName       string         `json:"short_name"`
	Description     string         `json:"description"`
	Lang            string         `json:"lang"`
	StartURL        string         `json:"start_url"`
	Scope           string         `json:"scope"`
	Display         string         `json:"display"`
	ThemeColor      string         `json:"theme_color"`
	BackgroundColor string         `json:"background_color"`
	Categories      []string       `json:"categories"`
	Icons           []manifestIcon `json:"icons"`
	ShareTarget     shareTarget    `json:"share_target"`
}

// A shareTarget is what the installed app takes from the share sheet: a table as
// a file or as text. The service worker answers it (pwa/app/sw.js); the server
// never sees it.
type shareTarget struct {
	Action   string      `json:"action"`
	Method   string      `json:"method"`
	Encoding string      `json:"enctype"`
	Params   shareParams `json:"params"`
}

type shareParams struct {
	Title string      `json:"title"`
	Text  string      `json:"text"`
	Files []shareFile `json:"files"`
}

type shareFile struct {
	Name   string   `json:"name"`
	Accept []string `json:"accept"`
}

var tables = shareTarget{
	Action: "share", Method: "POST", Encoding: "multipart/form-data",
	Params: shareParams{Title: "title", Text: "text", Files: []shareFile{
		{Name: "file", Accept: []string{"text/csv", "text/plain", "text/tab-separated-values", ".csv", ".tsv", ".txt"}},
	}},
}

type manifestIcon struct {
	Source  string `json:"src"`
	Sizes   string `json:"sizes"`
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}

// icons the app may have; those it has are listed.
var icons = []manifestIcon{
	{"icons/icon.svg", "any", "image/svg+xml", "any"},
	{"icons/icon-192.png", "192x192", "image/png", "any"},
	{"icons/icon-512.png", "512x512", "image/png", "any"},
	{"icons/maskable-512.png", "512x512", "image/png", "maskable"},
}

// paper is the app's ground colour, as in css/tokens.css.
const paper = "#f7f2e5"

func describeApp(assets Files) ([]byte, error) {
	m := webManifest{
		ID: "./", Name: "Pointsmith", ShortName: "Pointsmith", Lang: "en", StartURL: "./", Scope: "./",
		Display:     "standalone",
		Description: "Sets up breaker-point distributors: the book's figures and your readings in, a verdict and a mend out.",
		ThemeColor:  paper, BackgroundColor: paper, Categories: []string{"utilities"}, Icons: []manifestIcon{},
		ShareTarget: tables,
	}
	for _, icon := range icons {
		if assets["/"+strings.TrimPrefix(icon.Source, "/")] != nil {
			m.Icons = append(m.Icons, icon)
		}
	}
	return json.Marshal(m)
}

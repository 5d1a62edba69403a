package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"pointsmith/cmd/internal/web/assets"
)

const (
	app      = "pwa/app"
	frame    = app + "/js/frame/"
	pageKind = "-page.js"
	road     = "road"  // the pages from a car to its verdict
	rooms    = "rooms" // all other pages
)

// atOnce are the pages that come with the frame; all others are two files that are
// fetched once the first page stands: those of the rooms on the road to a verdict, and
// the rest, so that a phone that opens at a verdict does not wait for all.
var (
	atOnce = []string{"garage"}
	onRoad = []string{"job", "book", "readings", "curve"}
)

// plain are modules and scripts that a browser starts by their own address.
var plain = []string{"js/engine/worker.js", "js/ear/ear-worklet.js", "js/frame/first-paint.js"}

// bundle puts the app's modules and style sheets together: fewer files, each of
// them small, for a phone that opens the app for the first time. The sources
// stay as they are and are served where there is no bundle of exactly them.
func bundle() error {
	to := filepath.Join(app, assets.BundleFolder)
	if err := os.RemoveAll(to); err != nil {
		return err
	}
	before, err := scripts(to)
	if err != nil {
		return err
	}
	if err := page(to, before); err != nil {
		return err
	}
	digest, err := assets.SourcesDigest(os.DirFS(app))
	if err != nil {
		return err
	}
	// last: it vouches for the others
	return os.WriteFile(filepath.Join(app, assets.BundleDigest), []byte(digest), 0o644)
}

// scripts makes the scripts of the bundle, and gives those that main.js needs
// before it can run.
func scripts(to string) (before []string, err error) {
	pages, err := filepath.Glob(app + "/js/*/*" + pageKind)
	if err != nil {
		return nil, err
	}
	options := api.BuildOptions{Bundle: true, Splitting: true, Format: api.FormatESModule, Outdir: to, Write: true,
		EntryNames: "[name]", ChunkNames: "[name]-[hash]", Target: api.ES2022, Charset: api.CharsetUTF8,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true, LegalComments: api.LegalCommentsNone,
		Metafile: true, Plugins: []api.Plugin{pagesTogether(pages)},
		EntryPoints: []string{frame + "main.js", road, rooms}}
	for _, name := range plain {
		options.EntryPoints = append(options.EntryPoints, filepath.Join(app, name))
	}
	result := api.Build(options)
	if len(result.Errors) > 0 {
		return nil, errors.New(strings.Join(api.FormatMessages(result.Errors, api.FormatMessagesOptions{}), "\n"))
	}
	var meta struct {
		Outputs map[string]struct {
			Imports []struct{ Path, Kind string }
		}
	}
	if err := json.Unmarshal([]byte(result.Metafile), &meta); err != nil {
		return nil, err
	}
	for _, i := range meta.Outputs[to+"/main.js"].Imports {
		if i.Kind == "import-statement" {
			before = append(before, filepath.Base(i.Path))
		}
	}
	slices.Sort(before)
	return before, nil
}

// pagesTogether stands in for frame/pages.js: the pages of atOnce are part of
// the frame, those of the road one module, the others another.
func pagesTogether(pages []string) api.Plugin {
	var early strings.Builder
	late := map[string]*strings.Builder{road: {}, rooms: {}}
	early.WriteString("const here = {};\n")
	for _, path := range pages {
		name := strings.TrimSuffix(filepath.Base(path), pageKind)
		from, _ := filepath.Rel(app+"/js", path)
		if slices.Contains(atOnce, name) {
			fmt.Fprintf(&early, "import * as %s from %q; here[%[1]q] = %[1]s;\n", name, "../"+from)
		} else {
			fmt.Fprintf(late[fileOf(filepath.Dir(from))], "export * as %q from %q;\n", name, "../"+from)
		}
	}
	for _, module := range forTheBrowserTests {
		fmt.Fprintf(late[rooms], "export * as %q from %q;\n", module, "../"+module)
	}
	isOnRoad, _ := json.Marshal(onRoad)
	fmt.Fprintf(&early, `const isOnRoad = new Set(%s);
export const pageOf = async (room, name) =>
	here[name] ?? (await (isOnRoad.has(room) ? import(%q) : import(%q)))[name];
export const fetchPages = async () => { await import(%[2]q); await import(%[3]q); };
`, isOnRoad, road, rooms)
	return api.Plugin{Name: "pages", Setup: func(b api.PluginBuild) {
		b.OnLoad(api.OnLoadOptions{Filter: `/frame/pages\.js$`}, func(api.OnLoadArgs) (api.OnLoadResult, error) {
			return script(early.String())
		})
		b.OnResolve(api.OnResolveOptions{Filter: "^(" + road + "|" + rooms + ")$"},
			func(asked api.OnResolveArgs) (api.OnResolveResult, error) {
				return api.OnResolveResult{Path: asked.Path, Namespace: rooms}, nil
			})
		b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: rooms},
			func(asked api.OnLoadArgs) (api.OnLoadResult, error) { return script(late[asked.Path].String()) })
	}}
}

// fileOf names the file that has the pages of a room, ../ROOM or ROOM.
func fileOf(room string) string {
	if slices.Contains(onRoad, filepath.Base(room)) {
		return road
	}
	return rooms
}

// forTheBrowserTests are modules that the browser tests look into.
var forTheBrowserTests = []string{"kept/garage.js", "kept/db.js", "kept/drafts.js", "kept/sync.js",
	"kept/this-phone.js", "kept/photos/photos.js", "record/visits.js", "record/visit-facts.js", "record/case.js",
	"safety/standing.js", "safety/temporaries.js", "safety/coil-watch.js", "frame/update-bar.js",
	"bay/procedures/index.js", "engine/client.js", "ear/hearing.js", "garage/demos/dabchick.js"}

func script(text string) (api.OnLoadResult, error) {
	folder, err := filepath.Abs(frame)
	return api.OnLoadResult{Contents: &text, ResolveDir: folder, Loader: api.LoaderJS}, err
}

var (
	styleLink = regexp.MustCompile(`<link rel="stylesheet" href="(css/[a-z-]+\.css)">\n`)
	oldScript = regexp.MustCompile(`js/frame/(main|first-paint)\.js`)
)

// page makes the page that asks for the bundle, and its one style sheet.
func page(to string, before []string) error {
	text, err := os.ReadFile(app + "/index.html")
	if err != nil {
		return err
	}
	var styles bytes.Buffer
	sheets := styleLink.FindAllSubmatch(text, -1)
	if len(sheets) == 0 {
		return errors.New("index.html names no style sheet")
	}
	for _, sheet := range sheets {
		css, err := os.ReadFile(filepath.Join(app, string(sheet[1])))
		if err != nil {
			return err
		}
		styles.Write(css)
	}
	if err := os.WriteFile(filepath.Join(to, "app.css"), styles.Bytes(), 0o644); err != nil {
		return err
	}
	links := `<link rel="stylesheet" href="` + assets.BundleFolder + `/app.css">` + "\n"
	for _, name := range before {
		links += `<link rel="modulepreload" href="` + assets.BundleFolder + "/" + name + `">` + "\n"
	}
	first := true
	text = styleLink.ReplaceAllFunc(text, func([]byte) []byte {
		if !first {
			return nil
		}
		first = false
		return []byte(links)
	})
	text = oldScript.ReplaceAll(text, []byte(assets.BundleFolder+"/$1.js"))
	return os.WriteFile(filepath.Join(to, "index.html"), text, 0o644)
}

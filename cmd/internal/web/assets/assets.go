package assets

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"pointsmith/cmd/internal/shape"
)

// Files are the files of the app by their address, which begins with a stroke.
type Files map[string]*Asset

// An Asset is one file of the app, ready to be sent. Its hash is of the plain
// bytes: the service worker and the browser compare that.
type Asset struct {
	MediaType string
	Hash      string // base64 of the sha256
	plain     coded
	gzip      coded // empty when it would not be smaller
	brotli    coded
}

// coded is an asset's bytes in one coding, and the ETag of exactly these.
type coded struct {
	bytes []byte
	etag  string
}

const (
	enginePath = "/wasm/pointsmith.wasm"
	pagePath   = "/"
	workerPath = "/sw.js"
)

// mediaTypes by ending; a file of another kind in the app is an error, so that
// none is sent as something the browser guesses.
var mediaTypes = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".svg": "image/svg+xml", ".png": "image/png", ".json": "application/json", ".wasm": "application/wasm",
	".webmanifest": "application/manifest+json", ".txt": "text/plain; charset=utf-8",
}

// Prepare minifies, compresses and hashes the app for a server of this version.
// It fails when a file is of no known kind or cannot be minified.
func Prepare(app fs.FS, version string) (Files, error) {
	assets, err := readApp(app)
	if err != nil {
		return nil, err
	}
	note, err := json.Marshal(SiteNote{Product: "pointsmith", Version: version, Server: true})
	if err != nil {
		return nil, fmt.Errorf("prepare the app: %w", err)
	}
	assets[SitePath] = newAsset(SitePath, note)
	addPrecache(assets)
	return assets, nil
}

// readApp reads, minifies, compresses and hashes the whole app.
func readApp(app fs.FS) (Files, error) {
	assets, bundled := Files{}, hasFreshBundle(app)
	err := fs.WalkDir(app, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || isHidden(name) || isLeftOut(name, bundled) {
			return err
		}
		content, err := fs.ReadFile(app, name)
		if err != nil {
			return err
		}
		return addFile(assets, app, name, content)
	})
	if err != nil {
		return nil, fmt.Errorf("prepare the app: %w", err)
	}
	if assets[pagePath] == nil {
		return nil, fmt.Errorf("prepare the app: it has no index.html")
	}
	if !bundled {
		if err := addShapes(assets, app); err != nil {
			return nil, fmt.Errorf("prepare the app: %w", err)
		}
	}
	manifest, err := describeApp(assets)
	if err != nil {
		return nil, fmt.Errorf("prepare the app: %w", err)
	}
	assets[manifestPath] = newAsset(manifestPath, manifest)
	return assets, nil
}

// addShapes puts in what the app knows of documents, as this program has it: it
// is there without go generate, and never older than the server's own check.
func addShapes(assets Files, app fs.FS) error {
	text, err := shape.Script()
	if err != nil {
		return err
	}
	return addFile(assets, app, shape.ScriptPath, text)
}

// isHidden: dot-files, and the copies compressed beforehand, which travel with
// their original.
func isHidden(name string) bool {
	base := path.Base(name)
	return strings.HasPrefix(base, ".") || strings.HasSuffix(base, ".gz") || strings.HasSuffix(base, ".br") ||
		strings.HasSuffix(base, ".new")
}

func addFile(assets Files, app fs.FS, name string, content []byte) error {
	address := "/" + name
	if name == "index.html" || name == bundledPage {
		address = pagePath
	}
	if mediaTypes[path.Ext(name)] == "" {
		return fmt.Errorf("%s: no media type is known for this kind of file", name)
	}
	if address == enginePath {
		assets[address] = newEngine(app, content)
		return nil
	}
	content, err := minified(name, content)
	if err != nil {
		return fmt.Errorf("minify %s: %w", name, err)
	}
	assets[address] = newAsset(name, content)
	return nil
}

func newAsset(name string, content []byte) *Asset {
	digest := sha256.Sum256(content)
	a := &Asset{MediaType: mediaTypes[path.Ext(name)], Hash: base64.StdEncoding.EncodeToString(digest[:])}
	a.plain = newCoded(content)
	if smaller := gzipped(content); len(smaller) < len(content)*9/10 {
		a.gzip = newCoded(smaller)
	}
	return a
}

// newEngine takes the compressed copies made by go generate. Either may be
// missing; the engine is then sent in another coding.
func newEngine(app fs.FS, content []byte) *Asset {
	digest := sha256.Sum256(content)
	a := &Asset{MediaType: mediaTypes[".wasm"], Hash: base64.StdEncoding.EncodeToString(digest[:]),
		plain: newCoded(content)}
	for suffix, to := range map[string]*coded{".gz": &a.gzip, ".br": &a.brotli} {
		if copied, err := fs.ReadFile(app, enginePath[1:]+suffix); err == nil {
			*to = newCoded(copied)
		}
	}
	return a
}

func newCoded(content []byte) coded {
	digest := sha256.Sum256(content)
	return coded{content, `"` + base64.RawURLEncoding.EncodeToString(digest[:]) + `"`}
}

func gzipped(content []byte) []byte {
	var out bytes.Buffer
	z, _ := gzip.NewWriterLevel(&out, gzip.BestCompression) // the level exists
	_, _ = z.Write(content)                                 // a buffer takes everything
	_ = z.Close()
	return out.Bytes()
}

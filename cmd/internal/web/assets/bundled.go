package assets

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"pointsmith/cmd/internal/shape"
)

// Where go generate leaves the app's modules and style sheets put together, and
// the digest of what they were made of.
const (
	BundleFolder = "made/app"
	BundleDigest = BundleFolder + "/sources.txt"
	bundledPage  = BundleFolder + "/index.html"
)

// bundledSources are the folders and files that the bundle stands for; they are
// not served beside it.
var bundledSources = []string{"js/", "css/", "index.html", shape.ScriptPath}

func isBundledSource(name string) bool {
	for _, of := range bundledSources {
		if name == of || strings.HasSuffix(of, "/") && strings.HasPrefix(name, of) {
			return true
		}
	}
	return false
}

// SourcesDigest is a digest of everything that the bundle is made of, names
// included.
func SourcesDigest(app fs.FS) (string, error) {
	sum := sha256.New()
	err := fs.WalkDir(app, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || isHidden(name) || !isBundledSource(name) || name == shape.ScriptPath {
			return err
		}
		content, err := fs.ReadFile(app, name)
		fmt.Fprintf(sum, "%s %d\n%s", name, len(content), content)
		return err
	})
	if err != nil {
		return "", fmt.Errorf("digest the app: %w", err)
	}
	shapes, err := shape.Script() // as this program has it, whatever lies in the folder
	if err != nil {
		return "", fmt.Errorf("digest the app: %w", err)
	}
	sum.Write(shapes)
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// hasFreshBundle reports whether a bundle of exactly these sources is there. One
// that is older than its sources is not served: the plain modules are.
func hasFreshBundle(app fs.FS) bool {
	stated, err := fs.ReadFile(app, BundleDigest)
	if err != nil {
		return false
	}
	digest, err := SourcesDigest(app)
	return err == nil && digest == string(stated)
}

// isLeftOut reports whether a file is not served: of bundle and plain modules
// only one is.
func isLeftOut(name string, bundled bool) bool {
	if bundled {
		return isBundledSource(name) || name == BundleDigest
	}
	return strings.HasPrefix(name, path.Clean(BundleFolder)+"/")
}

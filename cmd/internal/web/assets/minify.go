package assets

import (
	"path"

	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"
	"github.com/tdewolff/minify/v2/html"
	"github.com/tdewolff/minify/v2/json"
	"github.com/tdewolff/minify/v2/svg"
)

// minifier leaves scripts alone: those of the bundle are made small when it is
// made, by what reads them whole. It keeps in HTML what style sheets and strict readers look at: quotes,
// end tags, document tags, and attributes that state a default, as type="text".
var minifier = func() *minify.M {
	m := minify.New()
	m.AddFunc(".css", css.Minify)
	m.Add(".html", &html.Minifier{KeepQuotes: true, KeepEndTags: true, KeepDocumentTags: true,
		KeepDefaultAttrVals: true})
	m.AddFunc(".svg", svg.Minify)
	m.AddFunc(".json", json.Minify)
	return m
}()

// minified makes the file smaller without changing what it does; files of
// other kinds come back as they are.
func minified(name string, content []byte) ([]byte, error) {
	out, err := minifier.Bytes(path.Ext(name), content)
	if err == minify.ErrNotExist {
		return content, nil
	}
	return out, err
}

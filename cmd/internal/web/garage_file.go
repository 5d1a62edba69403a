package web

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"

	"pointsmith/calc/refuse"
	"pointsmith/calc/schema"
	"pointsmith/cmd/internal/shape"
	"pointsmith/store"
)

// The whole garage as one file of JSON, the same from the phone and from the
// server. Everything that comes in from such a file passes ReadGarageFile: the
// one gate. The phone's side is js/kept/backup.js.

const (
	garageFormat = "pointsmith garage 1" // part of files people keep: a new number means a new shape
	// MaxGarageFile is the most bytes such a file may have, 64 MiB. Chosen: ten
	// years of a dozen cars are a few megabytes.
	MaxGarageFile = 64 << 20
	maxDocuments  = 20_000
)

type garageFile struct {
	Format    string         `json:"format" need:"yes" maxLen:"40"`
	Made      string         `json:"made" maxLen:"40" help:"when, RFC 3339"`
	Documents []fileDocument `json:"documents" need:"yes" maxItems:"20000"`
	Kept      []fileCopy     `json:"kept" maxItems:"20000" help:"copies that wait for a choice; the server's files have them"`
	Photos    []filePhoto    `json:"photos" maxItems:"2000" help:"the pictures, where they were to go along"`
	LeftOut   *int           `json:"photosLeftOut" min:"0" max:"1000000" help:"how many pictures are not in the file"`
}

type fileDocument struct {
	Kind      string          `json:"kind" need:"yes" enum:"car|distributor|visit"`
	ID        string          `json:"id" need:"yes" maxLen:"32"`
	ChangedAt string          `json:"changedAt" need:"yes" maxLen:"40" help:"RFC 3339"`
	Deleted   bool            `json:"deleted" help:"removed; with its body it can be brought back"`
	Body      json.RawMessage `json:"body" need:"yes" help:"{} of one that is removed and of which nothing else is known"`
}

type fileCopy struct {
	fileDocument
	Revision string `json:"revision" need:"yes" maxLen:"64"`
	Device   string `json:"device" maxLen:"80"`
}

// A GarageFile is what a file that passed the gate holds.
type GarageFile struct {
	Made      string
	Documents []store.Change
	Copies    []store.Copy
	Photos    [][]byte
	LeftOut   int // photos that are not in the file
}

// ReadGarageFile checks an exported garage as strictly as pushes are checked:
// size, shape, every document's body. Nothing of a file that is refused may be
// taken in.
func ReadGarageFile(text []byte) (GarageFile, error) {
	if len(text) > MaxGarageFile {
		return GarageFile{}, refuse.Input("file", fmt.Sprintf("has %d bytes", len(text)),
			fmt.Sprintf("%d bytes", MaxGarageFile), "choose a file that Pointsmith exported")
	}
	f, err := schema.Decode[garageFile](text)
	if err != nil {
		return GarageFile{}, err
	}
	if f.Format != garageFormat {
		return GarageFile{}, refuse.Input("format", fmt.Sprintf("%.40q is not known", f.Format), garageFormat,
			"choose a file that Pointsmith exported, or use a newer Pointsmith")
	}
	out := GarageFile{Made: f.Made}
	device := "a file"
	if made, err := time.Parse(time.RFC3339, f.Made); err == nil {
		device = "a file of " + made.Format(time.DateOnly)
	}
	for n, d := range f.Documents {
		at, err := d.check()
		if err != nil {
			return GarageFile{}, under(fmt.Sprintf("documents[%d]", n), err)
		}
		out.Documents = append(out.Documents, store.Change{Kind: d.Kind, ID: d.ID, ChangedAt: at, Device: device,
			Deleted: d.Deleted, Body: d.Body, Fits: fits(d.Kind)})
	}
	for n, k := range f.Kept {
		at, err := k.check()
		if err != nil {
			return GarageFile{}, under(fmt.Sprintf("kept[%d]", n), err)
		}
		out.Copies = append(out.Copies, store.Copy{Device: k.Device,
			Document: store.Document{Kind: k.Kind, ID: k.ID, Revision: k.Revision, ChangedAt: at, Body: k.Body}})
	}
	return out, out.readPhotos(f)
}

func (d fileDocument) check() (time.Time, error) {
	if !store.ValidID(d.ID) {
		return time.Time{}, refuse.Input("id", "has characters or a length that are not taken",
			"16 to 32 of a-z and 0-9", "export the garage again")
	}
	at, err := parseChangedAt(d.ChangedAt)
	if err == nil && !d.isOnlyRemoved() {
		err = inBody(shape.Check(d.Kind, d.Body))
	}
	return at, err
}

// isOnlyRemoved is true of a deletion of which nothing else is known.
func (d fileDocument) isOnlyRemoved() bool {
	var members map[string]json.RawMessage
	return d.Deleted && json.Unmarshal(d.Body, &members) == nil && members != nil && len(members) == 0
}

// check is as for a document; a copy is never a deletion, and its revision is
// part of an address.
func (k fileCopy) check() (time.Time, error) {
	if !revisionShape.MatchString(k.Revision) {
		return time.Time{}, refuse.Input("revision", "has characters or a length that are not taken",
			"1 to 64 of a-z and 0-9", "export the garage again")
	}
	k.Deleted = false
	return k.fileDocument.check()
}

var revisionShape = regexp.MustCompile(`^[a-z0-9]{1,64}$`)

func under(path string, err error) error {
	var bad *refuse.Error
	if errors.As(err, &bad) {
		return bad.Under(path)
	}
	return err
}

// WriteGarageFile writes the whole garage: every document, those removed with
// what is still known of them, and the copies that wait for a choice.
func WriteGarageFile(w io.Writer, garage *store.Store, now time.Time) (documents int, err error) {
	all, err := garage.Everything()
	if err != nil {
		return 0, err
	}
	kept, err := garage.AllKept()
	if err != nil {
		return 0, err
	}
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "{\n\"format\": %q,\n\"made\": %q,\n\"documents\": [", garageFormat,
		now.UTC().Format(time.RFC3339))
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	for n, d := range all {
		_, _ = out.WriteString(separator(n))
		if err := e.Encode(filed(d)); err != nil {
			return 0, err
		}
	}
	_, _ = out.WriteString("],\n\"kept\": [")
	for n, k := range kept {
		_, _ = out.WriteString(separator(n))
		if err := e.Encode(fileCopy{filed(k.Document), k.Revision, k.Device}); err != nil {
			return 0, err
		}
	}
	photos, err := garage.PhotoIDs()
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(out, "],\n\"photosLeftOut\": %d\n}\n", len(photos)) // a backup holds them
	return len(all), out.Flush()
}

func filed(d store.Document) fileDocument {
	if d.Deleted && (!shape.Known(d.Kind) || shape.Check(d.Kind, d.Body) != nil) {
		// from before the shape was what it is: the gate would refuse the whole file for it
		d.Body = json.RawMessage(`{}`)
	}
	return fileDocument{Kind: d.Kind, ID: d.ID, ChangedAt: d.ChangedAt.Format(time.RFC3339Nano),
		Deleted: d.Deleted, Body: d.Body}
}

func separator(n int) string { return strings.Repeat(",", min(n, 1)) + "\n" }

package web

import (
	"context"
	"encoding/json"
	"io/fs"
	"log/slog"
	"net/http"
	"os"
	"strings"
	"sync"
	"time"

	"pointsmith/cmd/internal/web/assets"
	"pointsmith/store"
)

// Options say what a site serves.
type Options struct {
	Store   *store.Store     // the garage
	App     fs.FS            // the phone app, index.html at its root
	Version string           // of the program, for status and OpenAPI
	Hosts   []string         // names this site answers to, besides addresses, localhost and the machine's own
	Log     *slog.Logger     // nil: the default
	Now     func() time.Time // nil: the machine's clock
	PairAll bool             // this machine is a device like any other: it pairs too
}

// A Site is everything the server offers. Make it with New.
type Site struct {
	store     *store.Store
	file      openFile
	version   string
	hosts     map[string]bool
	lasting   string // see SendTo
	log       *slog.Logger
	now       func() time.Time
	pairAll   bool
	tries     tries
	pairing   sync.Mutex
	sleep     func(context.Context, time.Duration)
	assets    assets.Files
	hasEngine bool
	openAPI   json.RawMessage
	rooms     rooms
	lanes     lanes
	handler   http.Handler
}

// New prepares a site: it minifies and compresses the assets and makes the
// openAPI document. It fails when an asset cannot be minified.
func New(o Options) (*Site, error) {
	files, err := assets.Prepare(o.App, o.Version)
	if err != nil {
		return nil, err
	}
	return assemble(o, files)
}

// assemble makes a site of assets that are ready.
func assemble(o Options, files assets.Files) (*Site, error) {
	s := &Site{store: o.Store, version: o.Version, hosts: ownNames(o.Hosts), log: o.Log, now: o.Now, pairAll: o.PairAll,
		assets: files, hasEngine: files.HasEngine(), rooms: newRooms(), lanes: newLanes(), sleep: sleepWell}
	if s.log == nil {
		s.log = slog.Default()
	}
	if s.now == nil {
		s.now = time.Now
	}
	routes := s.routes()
	var err error
	if s.file, err = openFileOf(o.Store); err != nil {
		return nil, err
	}
	if s.openAPI, err = json.Marshal(describeAPI(o.Version, routes)); err != nil {
		return nil, err
	}
	s.handler = s.withRecovery(withHeaders(s.withHostCheck(s.withRoom(newRouter(routes, s.getAsset)))))
	return s, nil
}

// Handler answers every request, checks and headers included.
func (s *Site) Handler() http.Handler { return s.handler }

// SendTo says where phones reach the app for good, as https://NAME.local:PORT,
// by a name that stays when the address changes. It is called before the site
// serves.
func (s *Site) SendTo(address string) { s.lasting = address }

// HasEngine reports whether the binary carries the calculation engine for the
// phone, that is, whether go generate was run before it was built.
func (s *Site) HasEngine() bool { return s.hasEngine }

// ownNames are the names a request may give as its Host, in lower case.
func ownNames(given []string) map[string]bool {
	names := map[string]bool{"localhost": true}
	if machine, err := os.Hostname(); err == nil {
		short, _, _ := strings.Cut(machine, ".")
		given = append(given, machine, short, short+".local")
	}
	for _, name := range given {
		names[strings.ToLower(strings.TrimSuffix(name, "."))] = true
	}
	return names
}

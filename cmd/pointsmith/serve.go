package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"syscall"

	"pointsmith"
	"pointsmith/cmd/internal/plain"
	"pointsmith/cmd/internal/web"
	"pointsmith/store"
)

// defaultListen: one port, always the same, on every network of the machine.
// The origin is the phone's database: another port would look like lost data.
const defaultListen = ":7373"

// A serving holds what serve was asked for.
type serving struct {
	listen, data string
	cert, key    string // files of a certificate from elsewhere
	trustPage    string // address of the plain page with the authority's certificate
	log          string // file for what goes wrong, "" for none
	hosts        names
	name         networkName // under .local
	wantsNew     bool        // an empty garage where the file is damaged or gone
	wantsQR      bool
	pairsAll     bool // this machine's browsers are devices like any other
}

func runServe(t terminal, _ io.Reader, args []string) int {
	o := serving{name: defaultName}
	flags := flag.NewFlagSet("serve", flag.ContinueOnError)
	o.addLasting(flags)
	flags.BoolVar(&o.wantsNew, "new", false,
		"start with an empty garage where the garage file is damaged or gone; a damaged one is set aside")
	flags.BoolVar(&o.wantsQR, "qr", false, "draw the code for the phone although this is not a terminal")
	if wasHelp, err := parseFlags(t, flags, args); err != nil {
		return t.fail(exitRefused, err)
	} else if wasHelp {
		return exitDone
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program at once
	if o.log != "" {
		kept, err := openLog(o.log)
		if err != nil {
			return t.fail(exitFailed, err)
		}
		defer kept.Close()
		t.err = io.MultiWriter(kept, t.err)
	}
	if err := serve(ctx, t, o); err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

// addLasting adds the flags that say how to serve from now on: those that a service has too.
func (o *serving) addLasting(flags *flag.FlagSet) {
	flags.StringVar(&o.listen, "listen", defaultListen,
		"`address` to answer at: HOST:PORT, or :PORT for every network of this machine")
	flags.StringVar(&o.data, "data", "", "garage `file` (default garage.db in a folder of its own among your settings)")
	flags.Var(&o.hosts, "host", "another `name` phones may use for this machine; may be given more than once")
	flags.Var(&o.name, "name", "`name` that phones on the network find this server by, with .local behind it, or off")
	flags.StringVar(&o.cert, "cert", "",
		"PEM `file` with a certificate and its chain, to speak https with; read again when it changes")
	flags.StringVar(&o.key, "key", "", "PEM `file` with its key")
	flags.StringVar(&o.trustPage, "trust-page", "", "`address` of the plain page with the certificate that pointsmith trust made, or off (default port 7374 beside -listen)")
	flags.BoolVar(&o.pairsAll, "pair-all", false, "let browsers on this machine pair too, as phones do: for a proxy here that does not say whom it passes on")
	flags.StringVar(&o.log, "log", "",
		"`file` that is told too what goes wrong; past 1 MB it goes on anew, and the one before stays as FILE.1")
}

// serve runs until ctx ends. Everything that can be refused is refused before
// a word is said of being ready.
func serve(ctx context.Context, t terminal, o serving) (err error) {
	listener, err := listenFirst(o)
	if err != nil {
		return err
	}
	isServing := false
	defer func() {
		if !isServing {
			err = errors.Join(err, listener.Close())
		}
	}()
	path, err := garageFile(o.data)
	if err != nil {
		return err
	}
	garage, err := openGarage(t, path, o.wantsNew)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, garage.Close()) }()
	warnIfOpen(t, path)
	log := plain.Log(slog.NewTextHandler(t.err, nil))
	secure, err := findSecurity(t, o, path, log)
	if err != nil {
		return err
	}
	site, err := newSite(garage, slices.Concat(o.hosts, secure.hosts, o.name.hosts()), o.pairsAll, log)
	if err != nil {
		return err
	}
	defer startDaily(ctx, garage, log)()
	h := house{t: t, o: o, path: path, garage: garage, site: site, secure: secure, at: listener.Addr().(*net.TCPAddr),
		log: log}
	isServing = true
	if o.log != "" {
		log.Info("serving", "version", version, "address", h.at.String())
		defer log.Info("stopped")
	}
	return h.run(ctx, listener)
}

// listenFirst takes the address before the garage file is opened or made, so
// that a wrong address leaves nothing behind. Where the address is taken by the
// Pointsmith that holds this very garage file, that is what is said.
func listenFirst(o serving) (net.Listener, error) {
	path, err := garageName(o.data)
	if err != nil {
		return nil, err
	}
	listener, err := listenOn(o.listen)
	if err == nil || isAbsent(path) {
		return listener, err
	}
	if _, held := store.Inspect(path); errors.Is(held, store.ErrLocked) {
		return nil, held
	}
	return nil, err
}

func newSite(garage *store.Store, hosts []string, pairsAll bool, log *slog.Logger) (*web.Site, error) {
	app, err := fs.Sub(pointsmith.App, "pwa/app")
	if err != nil {
		return nil, err
	}
	return web.New(web.Options{Store: garage, App: app, Version: version, Hosts: hosts, Log: log,
		PairAll: pairsAll})
}

// garageFile gives the name of the garage file and makes its folder.
func garageFile(given string) (string, error) {
	given, err := garageName(given)
	if err != nil {
		return "", err
	}
	if err := os.MkdirAll(filepath.Dir(given), 0o700); err != nil {
		return "", fmt.Errorf("make the folder of the garage file: %w; do: give -data a file in a folder you may write",
			err)
	}
	return given, nil
}

// garageName gives the name of the garage file and touches nothing. A folder
// is refused: what would be set aside with it is everything in it.
func garageName(given string) (string, error) {
	if given == "" {
		settings, err := os.UserConfigDir()
		if err != nil {
			return "", fmt.Errorf("there is no folder for settings here (%v); do: say where the garage file is with -data FILE", err)
		}
		given = filepath.Join(settings, "pointsmith", "garage.db")
	}
	if info, err := os.Stat(given); err == nil && info.IsDir() || os.IsPathSeparator(given[len(given)-1]) {
		return "", fmt.Errorf("%s is a folder, not a garage file; nothing was changed; do: give -data the file in it, as -data %s",
			given, filepath.Join(given, "garage.db"))
	} else if err == nil && !info.Mode().IsRegular() { // opening a pipe would wait for ever
		return "", fmt.Errorf("%s is no file but a %s; nothing was changed; do: give -data a file", given,
			kindOf(info.Mode()))
	}
	return given, nil
}

func listenOn(address string) (net.Listener, error) {
	listener, err := net.Listen("tcp", address)
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return nil, fmt.Errorf("address %s is in use; do: stop what uses it, or give -listen another port, as -listen :7374", address)
	case errors.Is(err, os.ErrPermission):
		return nil, fmt.Errorf("address %s is not for you to use; do: give -listen a port above 1023", address)
	case err != nil:
		return nil, fmt.Errorf("listen at %s: %w; do: give -listen HOST:PORT or :PORT", address, err)
	}
	return listener, nil
}

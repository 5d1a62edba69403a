package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"pointsmith/cmd/internal/admin"
	"pointsmith/store"
)

// A wish is what pair was asked for.
type wish struct {
	data, revoke            string
	list, forGuest, wantsQR bool
}

func runPair(t terminal, _ io.Reader, args []string) int {
	var o wish
	flags := flag.NewFlagSet("pair", flag.ContinueOnError)
	flags.StringVar(&o.data, "data", "", "garage `file` (default as for serve)")
	flags.BoolVar(&o.list, "list", false, "list the devices the garage is open to")
	flags.StringVar(&o.revoke, "revoke", "", "shut the device with this `id` out")
	flags.BoolVar(&o.forGuest, "guest", false, "the device may use the garage, and not let others in or shut them out")
	flags.BoolVar(&o.wantsQR, "qr", false, "draw the code for the phone although this is not a terminal")
	if wasHelp, err := parseFlags(t, flags, args); err != nil {
		return t.fail(exitRefused, err)
	} else if wasHelp {
		return exitDone
	}
	if o.list && o.revoke != "" {
		return t.fail(exitRefused, errors.New("-list and -revoke are two things; do: give one of them"))
	}
	if err := pair(t, o); err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

// pair asks the running server, or works on the file when none runs.
func pair(t terminal, o wish) (err error) {
	path, err := garageFile(o.data)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	client, err := admin.Dial(ctx, path)
	if err == nil {
		return serverDesk{ctx, client}.serve(t, o)
	}
	if !errors.Is(err, admin.ErrNoServer) {
		return err
	}
	if isAbsent(path) {
		return fmt.Errorf("there is no garage file %s yet, and no server runs on it; do: start pointsmith serve, which shows a first code, or give -data the right file", path)
	}
	garage, err := openMended(t, path, unproved)
	if err != nil {
		return overwritten(path, err)
	}
	defer func() { err = errors.Join(err, garage.Close()) }()
	return fileDesk{garage}.serve(t, o)
}

// A deskDevice is a device as the list shows it.
type deskDevice struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Owner    bool   `json:"owner"`
	PairedAt string `json:"pairedAt"`
	SeenAt   string `json:"seenAt"`
}

// A serverDesk asks the server that runs.
type serverDesk struct {
	ctx    context.Context
	client *admin.Client
}

func (d serverDesk) serve(t terminal, o wish) error {
	switch {
	case o.list:
		var answer struct {
			Devices []deskDevice
			Broken  []string
		}
		if err := d.client.Ask(d.ctx, "GET", "/api/v1/devices", nil, &answer); err != nil {
			return err
		}
		listDevices(t, answer.Devices)
		for _, one := range answer.Broken {
			sayBroken(t, one)
		}
	case o.revoke != "":
		var answer struct{ Device deskDevice }
		if err := d.client.Ask(d.ctx, "DELETE", "/api/v1/devices/"+o.revoke, nil, &answer); err != nil {
			return err
		}
		sayRevoked(t, answer.Device.Name)
	default:
		var answer struct {
			Code, Path string
			Until      time.Time
		}
		if err := d.client.Ask(d.ctx, "POST", "/api/v1/pair/code", map[string]bool{"owner": !o.forGuest},
			&answer); err != nil {
			return err
		}
		d.show(t, o, shownCode{store.ReadCode(answer.Code), answer.Until}, answer.Path)
	}
	return nil
}

func (d serverDesk) show(t terminal, o wish, code shownCode, path string) {
	t.say("  pairing code      %s", code)
	for _, phone := range d.client.Phones {
		t.say("  on the phone      %s", phone+path)
	}
	if len(d.client.Phones) == 0 {
		t.say("  on the phone      not from here: this server listens on its own machine alone; do: start it with -listen :7373")
	} else if o.wantsQR || isTerminal(t.out) {
		drawCode(t.out, d.client.Phones[0]+path)
	}
}

// A fileDesk works on the file of a server that does not run.
type fileDesk struct{ garage *store.Store }

func (d fileDesk) serve(t terminal, o wish) error {
	switch {
	case o.list:
		devices, err := d.garage.Devices()
		if err != nil {
			return err
		}
		var all []deskDevice
		for _, one := range devices {
			all = append(all, deskDevice{one.ID, one.Name, one.IsOwner, one.PairedAt.Format(time.RFC3339),
				one.SeenAt.Format(time.RFC3339)})
		}
		listDevices(t, all)
		broken, err := d.garage.BrokenDevices()
		if err != nil {
			return err
		}
		for _, one := range broken {
			sayBroken(t, one.String())
		}
	case o.revoke != "":
		device, err := d.garage.Revoke(o.revoke)
		if errors.Is(err, store.ErrUnknownDevice) {
			return fmt.Errorf("no device has the id %.40q; do: see them with pointsmith pair -list", o.revoke)
		}
		if err != nil {
			return err
		}
		sayRevoked(t, device.Name)
	default:
		code, err := newCodeIn(d.garage, !o.forGuest)
		if err != nil {
			return err
		}
		t.say("  pairing code      %s", code)
		t.say("                    no server runs on this garage: start pointsmith serve before then, and type the code on the phone")
	}
	return nil
}

func sayRevoked(t terminal, name string) {
	t.say("%s is shut out; what it holds of the garage stays on it", named(name))
}

func sayBroken(t terminal, what string) {
	t.say("%s is not as it was written; it lets nobody in; do: pair that phone again", what)
}

func listDevices(t terminal, devices []deskDevice) {
	if len(devices) == 0 {
		t.say("no device is paired; pointsmith pair makes a code for one")
		return
	}
	columns := tabwriter.NewWriter(t.out, 0, 8, 2, ' ', 0)
	fmt.Fprintln(columns, "id\tname\tmay\tpaired\tlast seen")
	for _, d := range devices {
		may := "use the garage"
		if d.Owner {
			may = "use it, let others in"
		}
		fmt.Fprintf(columns, "%s\t%s\t%s\t%s\t%s\n", named(d.ID), named(d.Name), may, shortTime(d.PairedAt),
			shortTime(d.SeenAt))
	}
	_ = columns.Flush() // fails only when nobody reads on
}

func shortTime(text string) string {
	at, err := time.Parse(time.RFC3339, text)
	if err != nil || at.IsZero() {
		return "never"
	}
	return at.Local().Format("2006-01-02 15:04")
}

package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"pointsmith/cmd/internal/localca"
)

// A trusting holds what trust was asked for.
type trusting struct {
	data              string
	hosts             names
	wantsPEM, makeNew bool
}

func runTrust(t terminal, _ io.Reader, args []string) int {
	var o trusting
	flags := flag.NewFlagSet("trust", flag.ContinueOnError)
	flags.StringVar(&o.data, "data", "", "garage `file` it is for (default as for serve)")
	flags.Var(&o.hosts, "host",
		"another `name` or address it may vouch for; may be given more than once, when it is made")
	flags.BoolVar(&o.wantsPEM, "print", false, "print the certificate as PEM and make nothing")
	flags.BoolVar(&o.makeNew, "new", false,
		"set the authority there is aside and make another; every phone must then install that one")
	if wasHelp, err := parseFlags(t, flags, args); err != nil {
		return t.fail(exitRefused, err)
	} else if wasHelp {
		return exitDone
	}
	if err := trust(t, o); err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

func trust(t terminal, o trusting) error {
	garage, err := garageFile(o.data)
	if err != nil {
		return err
	}
	files := localca.FilesFor(garage)
	if o.wantsPEM {
		return printAuthority(t, files)
	}
	if o.makeNew {
		return replaceAuthority(t, files, o)
	}
	authority, err := localca.Load(files)
	switch {
	case errors.Is(err, localca.ErrNone):
		if authority, err = localca.Make(files, localca.MachineName(), o.hosts, time.Now()); err != nil {
			return err
		}
		t.say("made an authority for this garage")
	case err != nil:
		return err
	default:
		t.say("this garage has an authority already; it stays as it is")
		for _, name := range o.hosts {
			if !authority.MayVouchFor(name) {
				return fmt.Errorf("it may not vouch for %s, and its limits are for good; do: make another with pointsmith trust -new -host %s, and install it on every phone", name, name)
			}
		}
	}
	describeAuthority(t, authority, files)
	return nil
}

func printAuthority(t terminal, files localca.Files) error {
	authority, err := localca.Load(files)
	if err != nil {
		return err
	}
	_, err = t.out.Write(authority.PEM())
	return err
}

func replaceAuthority(t terminal, files localca.Files, o trusting) error {
	authority, aside, err := localca.Replace(files, localca.MachineName(), o.hosts, time.Now())
	if err != nil {
		return err
	}
	for _, name := range aside {
		t.say("set aside   %s", name)
	}
	t.say("made another authority for this garage; every phone must install it, and may forget the old one")
	describeAuthority(t, authority, files)
	return nil
}

// describeAuthority says what there is, what it can do, and what comes next.
func describeAuthority(t terminal, a *localca.Authority, files localca.Files) {
	limits := a.Limits()
	var networks []string
	for _, n := range limits.Networks {
		networks = append(networks, n.String())
	}
	t.say("  certificate   %s", absolute(files.Certificate))
	t.say("  key           %s", absolute(files.Key))
	t.say("                for your eyes only: who has it could pass for a server of this house")
	t.say("  vouches for   names under %s", strings.Join(limits.Domains, ", "))
	t.say("                addresses in %s", strings.Join(networks, ", "))
	t.say("                and for nothing else: no site of the internet")
	if !a.IsForServersAlone() {
		t.say("                it was made by an earlier Pointsmith and does not say that it is for servers alone:")
		t.say("                who has the key could sign mail too; pointsmith trust -new makes one that says so")
	}
	t.say("  good until    %s", a.Certificate.NotAfter.Format(time.DateOnly))
	t.say("  fingerprint   %s", a.Fingerprint())
	t.say("nothing was installed anywhere")
	t.say("next: start pointsmith serve (again, if it runs), open the address it prints under %q on each phone, compare the fingerprint, and follow the steps there", "first, once")
}

func absolute(name string) string {
	if whole, err := filepath.Abs(name); err == nil {
		return whole
	}
	return name
}

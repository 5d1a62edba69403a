package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"os"
	"os/user"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A service is a Pointsmith that a machine starts by itself.
type service struct {
	system  string   // linux, macos or windows
	program string   // whole path, on the machine it is for
	args    []string // what the program is given
	data    string   // the garage file, whole path
	log     string   // "" where the system keeps the log
	user    string   // on Windows, whose logon starts it
}

// A kind of service is what a system wants to have.
type kind struct {
	name     string // of the file, where none is given
	folder   string // of somebody on such a machine
	suffix   string // of programs
	refuse   func(s service) error
	describe func(s service) []byte
	steps    func(s service, file string) []step
}

// A step is what a person does with the file, and the commands for it, as they are pasted.
type step struct {
	what     string
	commands []string
}

// nobody stands in the paths of another machine, which are not known here.
const nobody = "YOU"

var kinds = map[string]kind{
	"linux":   {"pointsmith.service", "/home/" + nobody + "/pointsmith/", "", refuseUnit, unit, unitSteps},
	"macos":   {"pointsmith.plist", "/Users/" + nobody + "/pointsmith/", "", nothingToRefuse, agent, agentSteps},
	"windows": {"pointsmith.xml", `C:\Users\` + nobody + `\pointsmith\`, ".exe", refuseTask, task, taskSteps},
}

func nothingToRefuse(service) error { return nil }

func thisSystem() string {
	if runtime.GOOS == "darwin" {
		return "macos"
	}
	return runtime.GOOS
}

func runService(t terminal, _ io.Reader, args []string) int {
	o := serving{name: defaultName}
	var s service
	var isForced bool
	flags := flag.NewFlagSet("service", flag.ContinueOnError)
	o.addLasting(flags)
	flags.StringVar(&s.system, "system", thisSystem(), "`system` it is for: linux, macos or windows")
	flags.StringVar(&s.program, "program", "", "whole path of the program `file` there (default this program)")
	flags.BoolVar(&isForced, "force", false, "write although the file is there and says something else")
	if wasHelp, err := readFlags(t, flags, args); err != nil {
		return t.fail(exitRefused, err)
	} else if wasHelp {
		return exitDone
	}
	if flags.NArg() > 1 {
		return t.fail(exitRefused, fmt.Errorf("%.40q is one word too many; do: put flags before FILE", flags.Arg(1)))
	}
	if err := s.fill(o); err != nil {
		return t.fail(exitRefused, err)
	}
	file := flags.Arg(0)
	if file == "" {
		file = kinds[s.system].name
	}
	if err := s.write(t, file, isForced); err != nil {
		return t.fail(exitFailed, err)
	}
	return exitDone
}

// write writes the file and says what to do with it.
func (s service) write(t terminal, file string, isForced bool) error {
	content := kinds[s.system].describe(s)
	old, err := os.ReadFile(file)
	switch {
	case err == nil && string(old) != string(content) && !isForced:
		return fmt.Errorf("%s is there and says something else; nothing was changed; do: give another FILE, or -force to write over it",
			file)
	case err != nil && !errors.Is(err, os.ErrNotExist):
		return fmt.Errorf("look at the file: %w; do: give a FILE in a folder you may write", err)
	}
	if err := os.WriteFile(file, content, 0o644); err != nil {
		return fmt.Errorf("write the file: %w; do: give a FILE in a folder you may write", err)
	}
	if strings.HasPrefix(s.program, os.TempDir()+string(filepath.Separator)) {
		t.warn("the program %s lies among the temporary files and may be gone tomorrow; do: put it in a place of its own, and run this from there",
			s.program)
	}
	t.say("wrote %s; nothing is installed, that is for you to do", file)
	if !s.isHere() && strings.Contains(s.program+s.data+s.user, nobody) {
		t.say("\n  first: put a user's name in place of %s in it", nobody)
	}
	for _, each := range kinds[s.system].steps(s, file) {
		t.say("\n  %s:\n      %s", each.what, strings.Join(each.commands, "\n      "))
	}
	return nil
}

// fill works out what the service is to run, and refuses what could not run.
func (s *service) fill(o serving) error {
	k, is := kinds[s.system]
	if !is {
		return fmt.Errorf("-system %.40q is not known; limit: linux, macos, windows; do: give one of them", s.system)
	}
	if (o.cert == "") != (o.key == "") {
		return errors.New("a certificate needs its key, and a key its certificate; do: give -cert and -key together")
	}
	if _, _, err := net.SplitHostPort(o.listen); err != nil {
		return fmt.Errorf("listen at %s: %w; do: give -listen HOST:PORT or :PORT", o.listen, err)
	}
	if err := s.fillPaths(o, k); err != nil {
		return err
	}
	s.args = []string{"serve", "-listen", o.listen, "-data", s.data}
	for _, name := range o.hosts {
		s.args = append(s.args, "-host", name)
	}
	s.args = append(s.args, o.switches()...)
	for _, file := range []struct{ flag, path string }{{"-cert", o.cert}, {"-key", o.key}, {"-log", s.log}} {
		if file.path == "" {
			continue
		}
		path, err := s.whole(file.flag, file.path)
		if err != nil {
			return err
		}
		s.args = append(s.args, file.flag, path)
	}
	if o.trustPage != "" {
		s.args = append(s.args, "-trust-page", o.trustPage)
	}
	for _, word := range append([]string{s.program, s.user}, s.args...) {
		if !utf8.ValidString(word) || strings.ContainsFunc(word, unicode.IsControl) {
			return fmt.Errorf("%.60q has a character that cannot be written down; limit: what can be typed on one line; do: give the file another name",
				word)
		}
	}
	return k.refuse(*s)
}

// switches are the lasting flags that name no file.
func (o serving) switches() []string {
	words := o.name.flags()
	if o.pairsAll {
		words = append(words, "-pair-all")
	}
	return words
}

// fillPaths finds the program, the garage file and the log. A service has another
// folder and other settings than a shell, so all of them are written out whole.
func (s *service) fillPaths(o serving, k kind) (err error) {
	if s.isHere() {
		err = s.fillFromHere(o)
	} else {
		s.fillFromAfar(o, k)
	}
	if err != nil {
		return err
	}
	if s.program, err = s.whole("-program", s.program); err != nil {
		return err
	}
	if s.data, err = s.whole("-data", s.data); err != nil {
		return err
	}
	if s.log = o.log; s.log == "" && s.system != "linux" { // systemd keeps what it is told
		s.log = strings.TrimSuffix(s.data, ".db") + ".log"
	}
	return nil
}

// fillFromHere takes what this machine knows.
func (s *service) fillFromHere(o serving) (err error) {
	if s.data, err = garageName(o.data); err != nil {
		return err
	}
	if s.program == "" {
		if s.program, err = os.Executable(); err != nil {
			return fmt.Errorf("find this program: %w; do: say where it is with -program FILE", err)
		}
	}
	if s.system != "windows" {
		return nil
	}
	who, err := user.Current()
	if err != nil {
		return fmt.Errorf("find out who you are: %w; do: log on and run this again", err)
	}
	s.user = who.Username
	return nil
}

// fillFromAfar takes stand-ins for what another machine would know.
func (s *service) fillFromAfar(o serving, k kind) {
	if s.data = o.data; s.data == "" {
		s.data = k.folder + "garage.db"
	}
	if s.program == "" {
		s.program = k.folder + "pointsmith" + k.suffix
	}
	if s.system == "windows" {
		s.user = nobody
	}
}

func (s *service) isHere() bool { return s.system == thisSystem() }

var wholeOnWindows = regexp.MustCompile(`^([A-Za-z]:\\|\\\\)`)

// whole gives a path from the root on; of another machine it has to be one already.
func (s *service) whole(name, path string) (string, error) {
	switch {
	case s.isHere():
		return filepath.Abs(path)
	case s.system == "windows" && wholeOnWindows.MatchString(path):
		return path, nil
	case s.system != "windows" && strings.HasPrefix(path, "/"):
		return path, nil
	}
	return "", fmt.Errorf("%s %.60s is not a whole path of another machine; limit: from the root or the drive on; do: give it as it is there, as %s",
		name, path, kinds[s.system].folder+"FILE")
}

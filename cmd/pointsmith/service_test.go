package main

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode/utf16"

	"pgregory.net/rapid"
)

// odd is what folders are called by people.
const odd = `Pat's & <Jo> "old" $HOME ${X} %h 100% \n ünder;#=`

// unitCommand reads the command of a unit as systemd.service(5) and systemd.syntax(7) say.
func unitCommand(t rapid.TB, unit string) (words []string) {
	t.Helper()
	_, rest, found := strings.Cut(unit, "\nExecStart=")
	line, _, _ := strings.Cut(rest, "\n")
	if !found {
		t.Fatalf("no command in\n%s", unit)
	}
	for line != "" {
		var word strings.Builder
		at := 1
		if line[0] != '"' {
			t.Fatalf("a word is not in quotes: %s", line)
		}
		for ; at < len(line) && line[at] != '"'; at++ {
			switch {
			case line[at] == '\\' && at+1 < len(line) && strings.ContainsRune(`\"`, rune(line[at+1])),
				strings.HasPrefix(line[at:], "%%"):
				at++
			case line[at] == '\\', line[at] == '%':
				t.Fatalf("systemd would put something else in the place of %s", line[at:])
			}
			word.WriteByte(line[at])
		}
		words = append(words, word.String())
		line = strings.TrimPrefix(line[at+1:], " ")
	}
	program, isPlain := strings.CutPrefix(words[0], ":")
	if !isPlain {
		t.Fatal("without a colon in front systemd would put something else in the place of $")
	}
	words[0] = program
	return words
}

func agentCommand(t rapid.TB, plist string) (words []string) {
	t.Helper()
	var is struct {
		Words []string `xml:"dict>array>string"`
	}
	if err := xml.Unmarshal([]byte(plist), &is); err != nil {
		t.Fatalf("%v in\n%s", err, plist)
	}
	return is.Words
}

// taskCommand reads the command of a task, and its words as Windows programs do: two
// strokes before a quote are one, an odd one left over makes the quote a letter.
func taskCommand(t rapid.TB, content []byte) (words []string) {
	t.Helper()
	var units []uint16
	for at := 0; at+1 < len(content); at += 2 {
		units = append(units, binary.LittleEndian.Uint16(content[at:]))
	}
	if len(content)%2 != 0 || units[0] != 0xfeff {
		t.Fatal("it is not UTF-16 with its mark")
	}
	var is struct {
		Actions struct {
			Exec struct{ Command, Arguments string }
		}
	}
	from := xml.NewDecoder(strings.NewReader(string(utf16.Decode(units[1:]))))
	from.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	if err := from.Decode(&is); err != nil {
		t.Fatal(err)
	}
	words = []string{is.Actions.Exec.Command}
	line, inQuotes, word := is.Actions.Exec.Arguments, false, ""
	for line != "" {
		strokes := len(line) - len(strings.TrimLeft(line, `\`))
		line = line[strokes:]
		isQuote := strings.HasPrefix(line, `"`)
		switch {
		case isQuote && strokes%2 == 1:
			word += strings.Repeat(`\`, strokes/2) + `"`
		case isQuote:
			word += strings.Repeat(`\`, strokes/2)
			inQuotes = !inQuotes
		case line != "" && line[0] == ' ' && !inQuotes:
			words = append(words, word+strings.Repeat(`\`, strokes))
			word = ""
		case line != "":
			word += strings.Repeat(`\`, strokes) + line[:1]
		default:
			word += strings.Repeat(`\`, strokes)
		}
		line = line[min(1, len(line)):]
	}
	return append(words, word)
}

// What is written is read back by the rules of each system, whatever the words are.
func TestServiceFilesKeepEveryWord(t *testing.T) {
	same := func(t rapid.TB, s service) {
		t.Helper()
		want := append([]string{s.program}, s.args...)
		for name, got := range map[string][]string{"systemd": unitCommand(t, string(unit(s))),
			"launchd": agentCommand(t, string(agent(s))), "Task Scheduler": taskCommand(t, task(s))} {
			if !slices.Equal(got, want) {
				t.Fatalf("%s would start %q, want %q", name, got, want)
			}
		}
	}
	same(t, service{program: "/home/" + odd + "/pointsmith", args: []string{"serve", "-data", odd, "", `\`, `a\\"`}})
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringOf(rapid.OneOf(rapid.SampledFrom([]rune(`\"'$%{}& <>;#`)),
			rapid.RuneFrom([]rune("az/Ω€😀")))), 1, 5).Draw(t, "words")
		same(t, service{program: "/" + words[0], args: words})
	})
}

// The command of the file, run as systemd would, serves; asked to end it ends well,
// and it starts again.
func TestServiceFileStartsAServerThatStopsAndStartsAgain(t *testing.T) {
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	home := filepath.Join(t.TempDir(), "Pat and Jo 100% $HOME")
	program, file := filepath.Join(home, "pointsmith"), filepath.Join(home, "a.service")
	if err := os.Mkdir(home, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address := listener.Addr().String()
	listener.Close()
	logged := filepath.Join(home, "it's.log")
	var said, complained bytes.Buffer
	if status := run(terminal{&said, &complained}, strings.NewReader(""), []string{"service", "-system", "linux",
		"-program", program, "-listen", address, "-data", filepath.Join(home, odd[:10]+".db"), "-log", logged,
		file}); status != exitDone {
		t.Fatalf("%d: %s", status, complained.String())
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	words := unitCommand(t, string(text))
	for range 2 {
		cmd := exec.Command(words[0], words[1:]...)
		cmd.Dir = "/"
		var wrong bytes.Buffer
		cmd.Stderr = &wrong
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		answer := awaitStatus(t, address)
		if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
			t.Fatal(err)
		}
		if err := cmd.Wait(); err != nil || !strings.Contains(answer, `"product":"pointsmith"`) {
			t.Fatalf("%v %s\n%s", err, answer, wrong.String())
		}
	}
	text, err = os.ReadFile(logged)
	if err != nil || strings.Count(string(text), "msg=serving") != 2 ||
		strings.Count(string(text), "msg=stopped") != 2 {
		t.Errorf("the log says\n%s%v", text, err)
	}
}

func awaitStatus(t *testing.T, address string) string {
	t.Helper()
	for deadline := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		answer, err := http.Get("http://" + address + "/api/v1/status")
		if err == nil {
			defer answer.Body.Close()
			text, err := io.ReadAll(answer.Body)
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
		if time.Now().After(deadline) {
			t.Fatal(err)
		}
	}
}

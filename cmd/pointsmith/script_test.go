package main

import (
	"io"
	"net"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"pointsmith"
	"pointsmith/calc"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"pointsmith": main})
}

// TestStories runs the stories in testdata/script, each in a folder of its
// own. Beside the usual commands they have
//
//	freeport NAME       put a free port of this machine into $NAME
//	get URL             ask for it until it answers, ten seconds at most
//	put URL FILE        send a file there
//	getsafe CA URL      get it over https, trusting only the authority in that file
//	postsafe CA URL FILE   post a file there; the answer ends with its Set-Cookie
//	lendcert CRT KEY    write a certificate for example.com and 127.0.0.1, and its key
//	clock NAME          note the time
//	within 2s NAME      fail if more time has passed since
func TestStories(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_CONFIG_HOME", env.WorkDir+"/settings")
			return nil
		},
		Condition: func(condition string) (bool, error) {
			_, err := pointsmith.App.Open("pwa/app/wasm/pointsmith.wasm")
			return condition == "engine" && err == nil, nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"freeport": freePort,
			"get": func(ts *testscript.TestScript, neg bool, args []string) {
				request(ts, neg, "GET", args[0], "")
			},
			"put": func(ts *testscript.TestScript, neg bool, args []string) {
				request(ts, neg, "PUT", args[0], ts.ReadFile(args[1]))
			},
			"getsafe":  getSafe,
			"postsafe": postSafe,
			"lendcert": lendCertificate,
			"clock": func(ts *testscript.TestScript, _ bool, args []string) {
				ts.Setenv("clock_"+args[0], time.Now().Format(time.RFC3339Nano))
			},
			"within": func(ts *testscript.TestScript, _ bool, args []string) {
				most, err := time.ParseDuration(args[0])
				ts.Check(err)
				since, err := time.Parse(time.RFC3339Nano, ts.Getenv("clock_"+args[1]))
				ts.Check(err)
				if took := time.Since(since); took > most {
					ts.Fatalf("took %v", took)
				}
			},
		},
	})
}

func freePort(ts *testscript.TestScript, _ bool, args []string) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	ts.Check(err)
	_, port, err := net.SplitHostPort(listener.Addr().String())
	ts.Check(err)
	ts.Setenv(args[0], port)
	ts.Check(listener.Close())
}

// request tries until something answers. With neg nothing may.
func request(ts *testscript.TestScript, neg bool, method, url, body string) {
	deadline := time.Now().Add(10 * time.Second)
	for {
		r, err := http.NewRequest(method, url, strings.NewReader(body))
		ts.Check(err)
		answer, err := http.DefaultClient.Do(r)
		if neg {
			if err == nil {
				answer.Body.Close()
				ts.Fatalf("something answers at %s", url)
			}
			return
		}
		if err == nil {
			defer answer.Body.Close()
			_, err = io.Copy(ts.Stdout(), answer.Body)
			ts.Check(err)
			if answer.StatusCode != http.StatusOK {
				ts.Fatalf("%s answers %s", url, answer.Status)
			}
			return
		}
		if time.Now().After(deadline) {
			ts.Fatalf("nothing answers at %s: %v", url, err)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// TestEveryHelpShowsAnExampleThatRuns pastes each example into a shell, as a
// person would.
func TestEveryHelpShowsAnExampleThatRuns(t *testing.T) {
	for _, m := range calc.Describe() {
		t.Run(m.Name, func(t *testing.T) {
			var help strings.Builder
			if status := run(terminal{&help, os.Stderr}, strings.NewReader(""),
				[]string{"calc", m.Name, "--help"}); status != exitDone {
				t.Fatalf("help ended with %d", status)
			}
			_, example, found := strings.Cut(help.String(), "\nexample:\n\n")
			if !found {
				t.Fatalf("no example in\n%s", help.String())
			}
			out := runInShell(t, example)
			if !strings.HasPrefix(out, "{") || !strings.HasSuffix(out, "}\n") || strings.Count(out, "\n") != 1 {
				t.Errorf("the example answers %.200q", out)
			}
		})
	}
}

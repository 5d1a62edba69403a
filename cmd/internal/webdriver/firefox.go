package webdriver

import (
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// nowhere lets Firefox reach nothing but this machine, lets it choose its own
// port for commands, and brings its console to its output.
const nowhere = `user_pref("marionette.port", 0);
user_pref("network.proxy.type", 1);
user_pref("network.proxy.http", "127.0.0.1");
user_pref("network.proxy.http_port", 9);
user_pref("network.proxy.ssl", "127.0.0.1");
user_pref("network.proxy.ssl_port", 9);
user_pref("devtools.console.stdout.content", true);
user_pref("devtools.console.stdout.chrome", false);
user_pref("browser.dom.window.dump.enabled", true);
`

// Firefox starts Firefox ESR without a display, with its profile and home in
// a folder. The same folder again is the same phone again.
func Firefox(folder string, width, height int) (*Session, error) {
	program, err := exec.LookPath("firefox-esr")
	if err != nil {
		return nil, errors.New("Firefox ESR is not installed (package firefox-esr)")
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(folder, "user.js"), []byte(nowhere), 0o600); err != nil {
		return nil, err
	}
	port := filepath.Join(folder, "MarionetteActivePort") // Firefox writes it there
	_ = os.Remove(port)
	s := &Session{said: &output{}}
	cmd := exec.Command(program, "--headless", "--no-remote", "--profile", folder, "--marionette", "about:blank")
	cmd.Env = surroundings(folder, "MOZ_DISABLE_AUTO_SAFE_MODE=1", "MOZ_CRASHREPORTER_DISABLE=1")
	cmd.Stdout, cmd.Stderr = s.said, s.said
	browser, err := run(cmd)
	if err != nil {
		return nil, err
	}
	s.end = func() error { browser.stop(0); return nil }
	if err := s.meetFirefox(browser, port, width, height); err != nil {
		browser.stop(0)
		return nil, fmt.Errorf("start Firefox: %w\n%.2000s", err, s.Said())
	}
	return s, nil
}

func (s *Session) meetFirefox(browser *process, port string, width, height int) error {
	var conn net.Conn
	err := browser.waitFor("it takes commands", func() bool {
		number, err := os.ReadFile(port)
		if err != nil || len(number) == 0 {
			return false
		}
		conn, err = net.Dial("tcp", "127.0.0.1:"+strings.TrimSpace(string(number)))
		return err == nil
	})
	if err != nil {
		return err
	}
	wire, err := newOverSocket(conn)
	if err != nil {
		return err
	}
	if _, err := wire.call(command{name: "WebDriver:NewSession"}, nil); err != nil {
		return err
	}
	s.wire = wire
	s.end = func() error {
		_, err := wire.call(command{name: "Marionette:Quit"}, map[string]any{"flags": []string{"eAttemptQuit"}})
		browser.stop(10 * time.Second) // chosen: it writes its profile first
		_ = conn.Close()
		return err
	}
	return s.begin(width, height)
}

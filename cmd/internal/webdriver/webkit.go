package webdriver

import (
	"bufio"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// WebKit starts the small browser that comes with WebKitGTK, on a screen of
// its own that nobody sees. It keeps nothing when it is closed; a page that is
// closed and opened finds everything again.
func WebKit(folder string, width, height int) (*Session, error) {
	program, err := exec.LookPath("WebKitWebDriver")
	if err != nil {
		return nil, errors.New("WebKitGTK’s driver is not installed (package webkit2gtk-driver)")
	}
	browsers, _ := filepath.Glob("/usr/lib/*/webkit2gtk-4.*/MiniBrowser")
	if len(browsers) == 0 {
		return nil, errors.New("WebKitGTK’s small browser is not installed (package webkit2gtk-driver brings it)")
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, err
	}
	screen, number, err := openScreen(max(width, 800), max(height, 1000)) // room for its frame
	if err != nil {
		return nil, err
	}
	s := &Session{said: &output{}}
	port, err := freePort()
	if err != nil {
		screen.stop(0)
		return nil, err
	}
	cmd := exec.Command(program, "--port="+port)
	cmd.Env = surroundings(folder, "DISPLAY=:"+number, "GDK_BACKEND=x11", "NO_AT_BRIDGE=1", "LIBGL_ALWAYS_SOFTWARE=1",
		// a container allows no sandbox, and has no graphics
		"WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS=1", "WEBKIT_DISABLE_COMPOSITING_MODE=1")
	cmd.Stdout, cmd.Stderr = s.said, s.said
	driver, err := run(cmd)
	if err != nil {
		screen.stop(0)
		return nil, err
	}
	s.end = func() error { driver.stop(0); screen.stop(0); return nil }
	if err := s.meetWebKit(driver, screen, port, browsers[len(browsers)-1], width, height); err != nil {
		_ = s.end()
		return nil, fmt.Errorf("start WebKitGTK: %w\n%.2000s", err, s.Said())
	}
	return s, nil
}

func (s *Session) meetWebKit(driver, screen *process, port, browser string, width, height int) error {
	wire := newOverHTTP("http://127.0.0.1:" + port)
	err := driver.waitFor("it takes commands", func() bool {
		conn, err := net.Dial("tcp", "127.0.0.1:"+port)
		if err == nil {
			_ = conn.Close()
		}
		return err == nil
	})
	if err != nil {
		return err
	}
	err = wire.open(map[string]any{"webkitgtk:browserOptions": map[string]any{
		"binary": browser, "args": []string{"--automation", "--enable-write-console-messages-to-stdout=true"}}})
	if err != nil {
		return err
	}
	s.wire = wire
	s.end = func() error {
		_, err := wire.call(command{"DELETE", "", ""}, nil)
		driver.stop(time.Second / 2) // chosen: it stays until it is told to go
		screen.stop(0)
		return err
	}
	return s.begin(width, height)
}

// openScreen starts a display in memory and gives its number.
func openScreen(width, height int) (*process, string, error) {
	program, err := exec.LookPath("Xvfb")
	if err != nil {
		return nil, "", errors.New("a display in memory is not installed (package xvfb)")
	}
	number, tells, err := os.Pipe()
	if err != nil {
		return nil, "", err
	}
	defer number.Close()
	cmd := exec.Command(program, "-displayfd", "3", "-screen", "0", fmt.Sprintf("%dx%dx24", width, height),
		"-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{tells}
	screen, err := run(cmd)
	_ = tells.Close()
	if err != nil {
		return nil, "", err
	}
	_ = number.SetReadDeadline(time.Now().Add(patience))
	said, err := bufio.NewReader(number).ReadString('\n') // it writes the end of the line apart
	if err != nil {
		screen.stop(0)
		return nil, "", fmt.Errorf("no display: %w", err)
	}
	return screen, strings.TrimSpace(said), nil
}

func freePort() (string, error) {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return "", err
	}
	defer listener.Close()
	return strconv.Itoa(listener.Addr().(*net.TCPAddr).Port), nil
}

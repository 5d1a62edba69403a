package main

import (
	"fmt"
	"strings"
)

// unitText is a systemd user unit. Of the lines that shut a program in stand here
// those that need no rights of their own: a unit of a user has none. AF_NETLINK
// is for the addresses of this machine. Status 2 is a refused command line, which
// is no better at the next start.
const unitText = `[Unit]
Description=Pointsmith, the garage and its app
StartLimitIntervalSec=60
StartLimitBurst=5

[Service]
ExecStart=%s
Restart=on-failure
RestartSec=3
RestartPreventExitStatus=2
TimeoutStopSec=20
UMask=0077
NoNewPrivileges=yes
LockPersonality=yes
MemoryDenyWriteExecute=yes
RestrictAddressFamilies=AF_INET AF_INET6 AF_NETLINK AF_UNIX
RestrictNamespaces=yes
RestrictRealtime=yes
RestrictSUIDSGID=yes
SystemCallArchitectures=native
SystemCallFilter=@system-service
SystemCallErrorNumber=EPERM

[Install]
WantedBy=default.target
`

func unit(s service) []byte {
	var words []string
	for n, word := range append([]string{s.program}, s.args...) {
		if n == 0 {
			word = ":" + word // so that $ stands for itself, in all words
		}
		words = append(words, unitWord(word))
	}
	return fmt.Appendf(nil, unitText, strings.Join(words, " "))
}

// unitWord writes a word as systemd reads it: in quotes, with % twice.
func unitWord(word string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, `%`, `%%`).Replace(word) + `"`
}

func refuseUnit(s service) error {
	if strings.ContainsAny(s.program, `"'\`) {
		return fmt.Errorf("the program's path %.60s has a quote or a backslash in it; limit: systemd starts no such program; do: put it somewhere else, or say where with -program FILE",
			s.program)
	}
	return nil
}

func unitSteps(s service, file string) []step {
	return []step{
		{"put it in its place; it starts now and at every log-on, and again after a crash", []string{
			"mkdir -p ~/.config/systemd/user",
			"cp " + quoted(file) + " ~/.config/systemd/user/pointsmith.service",
			"systemctl --user daemon-reload",
			"systemctl --user enable --now pointsmith"}},
		{"once, so that it runs from the machine's start on, with nobody logged on", []string{
			"loginctl enable-linger"}},
		{"what it said; the journal keeps itself short", []string{"journalctl --user -u pointsmith"}},
		{"a code for a phone", []string{quoted(s.program) + " pair -data " + quoted(s.data)}},
		{"after another pointsmith was put in the old one's place", []string{"systemctl --user restart pointsmith"}},
		{"no more of it; the garage file stays", []string{"systemctl --user disable --now pointsmith"}},
	}
}

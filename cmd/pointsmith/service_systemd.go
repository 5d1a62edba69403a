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

func unitSteps(s service, file string) string {
	return fmt.Sprintf(`  mkdir -p ~/.config/systemd/user
  cp %s ~/.config/systemd/user/pointsmith.service
  systemctl --user daemon-reload
  systemctl --user enable --now pointsmith    # starts it, and at every log-on; after a crash too
  loginctl enable-linger                      # once: from the start of the machine on, with nobody logged on

  journalctl --user -u pointsmith             # what it said, the first pairing code too; the journal keeps itself short
  %s pair -data %s
  systemctl --user restart pointsmith         # after another pointsmith was put in the old one's place
  systemctl --user disable --now pointsmith   # no more of it; the garage file stays`,
		quoted(file), quoted(s.program), quoted(s.data))
}

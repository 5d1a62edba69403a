package main

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"
)

// agentText is a launchd agent of one user. 63 is the umask 077: launchd wants it in tens.
const agentText = `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<plist version="1.0">
<dict>
	<key>Label</key>
	<string>pointsmith</string>
	<key>ProgramArguments</key>
	<array>
%s	</array>
	<key>RunAtLoad</key>
	<true/>
	<key>KeepAlive</key>
	<dict>
		<key>SuccessfulExit</key>
		<false/>
	</dict>
	<key>ThrottleInterval</key>
	<integer>10</integer>
	<key>Umask</key>
	<integer>63</integer>
</dict>
</plist>
`

func agent(s service) []byte {
	var words strings.Builder
	for _, word := range append([]string{s.program}, s.args...) {
		fmt.Fprintf(&words, "\t\t<string>%s</string>\n", marked(word))
	}
	return fmt.Appendf(nil, agentText, words.String())
}

// marked writes a text as XML has it.
func marked(text string) string {
	var out bytes.Buffer
	_ = xml.EscapeText(&out, []byte(text)) // a buffer takes everything
	return out.String()
}

func agentSteps(s service, file string) string {
	return fmt.Sprintf(`  mkdir -p ~/Library/LaunchAgents
  cp %s ~/Library/LaunchAgents/pointsmith.plist
  launchctl bootstrap gui/$(id -u) ~/Library/LaunchAgents/pointsmith.plist   # starts it, and at every log-on

  tail %s    # what went wrong; it keeps itself short
  %s pair -data %s
  launchctl kickstart -k gui/$(id -u)/pointsmith    # after another pointsmith was put in the old one's place
  launchctl bootout gui/$(id -u)/pointsmith         # no more of it until the next log-on; remove the plist for good
%s`, quoted(file), quoted(s.log), quoted(s.program), quoted(s.data), standIns(s))
}

// standIns says what to put into paths of another machine.
func standIns(s service) string {
	if !strings.Contains(s.program+s.data, nobody) {
		return ""
	}
	return "\n  first put the user's name in place of " + nobody + " in the file, or give -program and -data as they are there"
}

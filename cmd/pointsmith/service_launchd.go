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

func agentSteps(s service, file string) []step {
	return []step{
		{"put it in its place; it starts now and at every log-on, and again after a crash", []string{
			"mkdir -p ~/Library/LaunchAgents",
			"cp " + quoted(file) + " ~/Library/LaunchAgents/pointsmith.plist",
			"launchctl bootstrap gui/$(id -u) ~/Library/LaunchAgents/pointsmith.plist"}},
		{"what went wrong; the log keeps itself short", []string{"tail " + quoted(s.log)}},
		{"a code for a phone", []string{quoted(s.program) + " pair -data " + quoted(s.data)}},
		{"after another pointsmith was put in the old one's place", []string{
			"launchctl kickstart -k gui/$(id -u)/pointsmith"}},
		{"no more of it; the garage file stays", []string{
			"launchctl bootout gui/$(id -u)/pointsmith", "rm ~/Library/LaunchAgents/pointsmith.plist"}},
	}
}

package main

import (
	"encoding/binary"
	"fmt"
	"strings"
	"unicode/utf16"
)

// taskText is a task of the Task Scheduler. It starts at log-on and looks every five
// minutes whether it still runs, which is how it comes again after a crash. Without
// PT0S it would be ended after three days.
const taskText = `<?xml version="1.0" encoding="UTF-16"?>
<Task version="1.2" xmlns="http://schemas.microsoft.com/windows/2004/02/mit/task">
  <RegistrationInfo>
    <Description>Pointsmith, the garage and its app</Description>
  </RegistrationInfo>
  <Triggers>
    <LogonTrigger>
      <Repetition>
        <Interval>PT5M</Interval>
        <StopAtDurationEnd>false</StopAtDurationEnd>
      </Repetition>
      <Enabled>true</Enabled>
      <UserId>%[1]s</UserId>
    </LogonTrigger>
  </Triggers>
  <Principals>
    <Principal id="Author">
      <UserId>%[1]s</UserId>
      <LogonType>InteractiveToken</LogonType>
      <RunLevel>LeastPrivilege</RunLevel>
    </Principal>
  </Principals>
  <Settings>
    <MultipleInstancesPolicy>IgnoreNew</MultipleInstancesPolicy>
    <DisallowStartIfOnBatteries>false</DisallowStartIfOnBatteries>
    <StopIfGoingOnBatteries>false</StopIfGoingOnBatteries>
    <ExecutionTimeLimit>PT0S</ExecutionTimeLimit>
  </Settings>
  <Actions Context="Author">
    <Exec>
      <Command>%[2]s</Command>
      <Arguments>%[3]s</Arguments>
    </Exec>
  </Actions>
</Task>
`

// task is written as Windows writes such files itself: UTF-16, with its mark in front.
func task(s service) []byte {
	var words []string
	for _, word := range s.args {
		words = append(words, taskWord(word))
	}
	text := fmt.Sprintf(taskText, marked(s.user), marked(s.program), marked(strings.Join(words, " ")))
	out := []byte{0xff, 0xfe}
	for _, unit := range utf16.Encode([]rune(strings.ReplaceAll(text, "\n", "\r\n"))) {
		out = binary.LittleEndian.AppendUint16(out, unit)
	}
	return out
}

// taskWord writes a word as Windows programs read their command line: in quotes, and
// before a quote every backslash twice.
func taskWord(word string) string {
	var out strings.Builder
	out.WriteByte('"')
	strokes := 0
	for _, r := range word {
		switch r {
		case '\\':
			strokes++
		case '"':
			out.WriteString(strings.Repeat(`\`, strokes+1))
			strokes = 0
		default:
			strokes = 0
		}
		out.WriteRune(r)
	}
	return out.String() + strings.Repeat(`\`, strokes) + `"`
}

func refuseTask(s service) error {
	for _, word := range append([]string{s.program}, s.args...) {
		if strings.Contains(word, "%") {
			return fmt.Errorf("%.60q has a per cent sign in it; limit: the Task Scheduler puts something else in its place; do: give the file another name",
				word)
		}
	}
	if strings.Contains(s.program, `"`) {
		return fmt.Errorf("%.60q has a quote in it; limit: no file on Windows has one; do: look at -program", s.program)
	}
	return nil
}

func taskSteps(s service, file string) []step {
	return []step{
		{"put it in its place; it starts at every log-on, and within five minutes after a crash", []string{
			"schtasks /Create /TN Pointsmith /XML " + taskWord(file)}},
		{"start it now; it has a window, and closing that ends it properly", []string{"schtasks /Run /TN Pointsmith"}},
		{"what went wrong; the log keeps itself short", []string{"type " + taskWord(s.log)}},
		{"a code for a phone", []string{taskWord(s.program) + " pair -data " + taskWord(s.data)}},
		{"before another pointsmith.exe is put in the old one's place; then start it again", []string{
			"schtasks /End /TN Pointsmith"}},
		{"no more of it; the garage file stays", []string{"schtasks /Delete /TN Pointsmith"}},
	}
}

package main

import (
	"bytes"
	"fmt"
	"os"
	"sync"
	"time"
)

// logBytes is when a log goes on anew: some ten thousand lines, a year and more
// of a server that is well (chosen).
const logBytes = 1 << 20

// A logFile is the log of a server that nobody watches. It keeps itself short: at
// logBytes the file is set aside as FILE.1, in place of the one before. Where another
// program has moved or removed the file, the next line begins it anew, without a signal.
type logFile struct {
	mu   sync.Mutex
	path string
	most int64 // bytes
	file *os.File
	now  func() time.Time
}

// openLog opens a log to go on with, or begins it. Only its owner may read it.
func openLog(path string) (*logFile, error) {
	l := &logFile{path: path, most: logBytes, now: time.Now}
	return l, l.open()
}

func (l *logFile) open() (err error) {
	l.file, err = os.OpenFile(l.path, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("open the log: %w; do: give -log a file in a folder that is there and that you may write", err)
	}
	return nil
}

// Write adds one line, with the time where it has none. It never fails: a full disk
// is no reason to stop serving, and the terminal is told the line all the same.
func (l *logFile) Write(line []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	text := line
	if !bytes.HasPrefix(line, []byte("time=")) {
		text = append([]byte("time="+l.now().Format(time.RFC3339)+" "), line...)
	}
	if l.follow(int64(len(text))) == nil {
		_, _ = l.file.Write(text)
	}
	return len(line), nil
}

// follow makes sure that the file is the one at the path, and has room for more.
func (l *logFile) follow(more int64) error {
	if l.file == nil { // it could not be opened the last time
		return l.open()
	}
	have, err := l.file.Stat()
	if err != nil {
		return err
	}
	there, err := os.Stat(l.path)
	isSame := err == nil && os.SameFile(have, there)
	if isSame && have.Size()+more <= l.most {
		return nil
	}
	if err := l.shut(); err != nil {
		return err
	}
	if isSame {
		_ = os.Rename(l.path, l.path+".1") // where it cannot be, a log that is too long is better than none
	}
	return l.open()
}

func (l *logFile) shut() error {
	file := l.file
	l.file = nil
	return file.Close()
}

// Close ends the log.
func (l *logFile) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.file == nil {
		return nil
	}
	return l.shut()
}

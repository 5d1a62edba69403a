package main

import (
	"io/fs"
	"os"
	"runtime"
)

// warnIfOpen says that others than its owner may use the garage file, and how
// to change that. On Windows a file's mode does not say who may.
func warnIfOpen(t terminal, path string) {
	info, err := os.Stat(path)
	if err != nil || runtime.GOOS == "windows" || info.Mode().Perm()&0o066 == 0 {
		return
	}
	what := "read"
	switch may := info.Mode().Perm(); {
	case may&0o022 != 0 && may&0o044 != 0:
		what = "read and change"
	case may&0o022 != 0:
		what = "change"
	}
	t.warn("others on this machine may %s the garage file, which says who is let in; do: chmod 600 %s", what,
		quoted(path))
}

// kindOf says what lies where a file should be.
func kindOf(mode fs.FileMode) string {
	switch {
	case mode&fs.ModeNamedPipe != 0:
		return "pipe"
	case mode&fs.ModeSocket != 0:
		return "socket"
	case mode&fs.ModeDevice != 0:
		return "device"
	}
	return "thing of another kind"
}

package main

// A target is a machine that an archive is for.
type target struct {
	system, processor string // as Go names them
	name              string // as the archive names it
}

var targets = []target{
	{"linux", "amd64", "linux-amd64"},
	{"linux", "arm64", "linux-arm64"},
	{"linux", "arm", "linux-armv7"},
	{"darwin", "amd64", "macos-amd64"},
	{"darwin", "arm64", "macos-arm64"},
	{"windows", "amd64", "windows-amd64"},
}

// env sets every variable by which a build for the target could come out
// otherwise on another machine.
func (t target) env() []string {
	return append([]string{"GOOS=" + t.system, "GOARCH=" + t.processor}, sameEverywhere...)
}

// sameEverywhere: plain Go, the oldest processors of each kind that are still met,
// and no path of this machine in the program.
var sameEverywhere = []string{"CGO_ENABLED=0", "GOFLAGS=-trimpath", "GOAMD64=v1", "GOARM64=v8.0", "GOARM=7",
	"GOEXPERIMENT=", "GOFIPS140=off", "GOWORK=off"}

// program is the name of the program inside the archive.
func (t target) program() string {
	if t.system == "windows" {
		return "pointsmith.exe"
	}
	return "pointsmith"
}

// folder is the name of the one folder in the archive.
func (t target) folder(version string) string { return "pointsmith-" + version + "-" + t.name }

// archive is the name of the archive.
func (t target) archive(version string) string {
	if t.system == "windows" {
		return t.folder(version) + ".zip"
	}
	return t.folder(version) + ".tar.gz"
}

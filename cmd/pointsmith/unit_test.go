package main

import (
	"net"
	"strings"
	"testing"

	"rsc.io/qr"
)

func TestSuggestionGuessesSlipsOnly(t *testing.T) {
	known := []string{"serve", "calc", "version"}
	for given, want := range map[string]string{"serv": "did you mean serve?", "clac": "did you mean calc?",
		"verison": "did you mean version?", "bake": "else", "": "else", strings.Repeat("x", 5000): "else"} {
		if got := suggestion(given, known, "else"); got != want {
			t.Errorf("%.20q: %q, want %q", given, got, want)
		}
	}
}

// The drawn code is read back, module by module.
func TestCodeIsDrawnTrueToItsModules(t *testing.T) {
	code, err := qr.Encode(joinURL("https://garage-of-the-long-house.home.arpa:7373", "ABCD2345"), qr.L)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(codeLines(code.Size, code.Black), "\n"), "\n")
	if want := (code.Size + 2*quietZone + 1) / 2; len(lines) != want {
		t.Fatalf("%d lines, want %d", len(lines), want)
	}
	for row, line := range lines {
		inside, ok := strings.CutPrefix(strings.TrimSuffix(line, asBefore), "  "+inkOnPaper)
		if cells := []rune(inside); !ok || len(cells) != code.Size+2*quietZone || len(cells) > 76 {
			t.Fatalf("line %d is %q", row, line)
		} else {
			for column, cell := range cells {
				x, y := column-quietZone, 2*row-quietZone
				upper, lower := cell == '█' || cell == '▀', cell == '█' || cell == '▄'
				if upper != code.Black(x, y) || lower != code.Black(x, y+1) {
					t.Fatalf("module %d,%d is drawn wrong", x, y)
				}
			}
		}
	}
}

func TestPhoneAddressesOfOneInterfaceAreItsOwn(t *testing.T) {
	if got := phoneAddresses(net.IPv4(127, 0, 0, 1)); got != nil {
		t.Errorf("loopback gives %v", got)
	}
	one := net.IPv4(192, 168, 1, 20)
	if got := phoneAddresses(one); len(got) != 1 || !got[0].Equal(one) {
		t.Errorf("%v gives %v", one, got)
	}
	for _, ip := range phoneAddresses(net.IPv4zero) {
		if ip.IsLoopback() || ip.IsLinkLocalUnicast() {
			t.Errorf("%v is offered to phones", ip)
		}
	}
}

func TestFailureIsOneLineWhateverTheReason(t *testing.T) {
	var said strings.Builder
	status := run(terminal{&strings.Builder{}, &said}, strings.NewReader("{\n\"a\u0000\": \n"),
		[]string{"calc", "convert"})
	if status != exitRefused || strings.Count(said.String(), "\n") != 1 {
		t.Errorf("%d %q", status, said.String())
	}
}

package main

import (
	"io"
	"strings"

	"rsc.io/qr"
)

const (
	quietZone = 4 // light modules around the code; ISO/IEC 18004 asks for four
	// Black on white, whatever colours the terminal has: scanners want dark on light.
	inkOnPaper = "\x1b[38;5;16;48;5;231m"
	asBefore   = "\x1b[0m"
)

// drawCode draws text as a QR code, two modules to a character.
func drawCode(out io.Writer, text string) {
	code, err := qr.Encode(text, qr.L)
	if err != nil { // too long; the address stands above it anyway
		return
	}
	_, _ = io.WriteString(out, "\n"+codeLines(code.Size, code.Black)+"\n")
}

func codeLines(size int, isBlack func(x, y int) bool) string {
	var b strings.Builder
	for y := -quietZone; y < size+quietZone; y += 2 {
		b.WriteString("  " + inkOnPaper)
		for x := -quietZone; x < size+quietZone; x++ {
			b.WriteString(halfBlock(isBlack(x, y), isBlack(x, y+1)))
		}
		b.WriteString(asBefore + "\n")
	}
	return b.String()
}

func halfBlock(upper, lower bool) string {
	switch {
	case upper && lower:
		return "█"
	case upper:
		return "▀"
	case lower:
		return "▄"
	}
	return " "
}

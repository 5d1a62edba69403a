package card

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"io"
	"strings"

	"pointsmith/calc/refuse"
)

// MaxCharacters is the longest fragment that is made or read: ten times what
// a full car needs, and short enough to be read at once.
const MaxCharacters = 16000

const (
	newest     = 3 // version; all before it are read
	headerSize = 8 // frozen: see the package comment
	// bytes a fragment may inflate to: eight times the longest fragment, as text deflates to a third at best
	maxPayload = 1 << 17
)

// seal puts the payload of a version into a fragment.
func seal(version byte, payload []byte) (string, error) {
	if len(payload) > maxPayload {
		return "", tooMuch()
	}
	var body bytes.Buffer
	w, err := flate.NewWriterDict(&body, flate.BestCompression, []byte(dictionary1))
	if err != nil {
		return "", err
	}
	if _, err := w.Write(payload); err != nil {
		return "", err
	}
	if err := w.Close(); err != nil {
		return "", err
	}
	return wrap(version, body.Bytes())
}

// wrap puts the eight bytes in front of a body.
func wrap(version byte, body []byte) (string, error) {
	if base64.RawURLEncoding.EncodedLen(headerSize+len(body)) > MaxCharacters {
		return "", tooMuch()
	}
	out := []byte{version, byte(len(body) >> 8), byte(len(body)), 0}
	out[3] = headerCheck(out)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(body))
	return base64.RawURLEncoding.EncodeToString(append(out, body...)), nil
}

func tooMuch() *refuse.Error {
	return refuse.Input("card", "is too much for a link", fmt.Sprintf("a link of at most %d characters", MaxCharacters),
		"leave out curves or notes, or send the garage's file instead")
}

func headerCheck(header []byte) byte { return byte(crc32.ChecksumIEEE(header[:3])) }

// unwrap gives version and body of a fragment, or says whether it was cut or
// damaged.
func unwrap(fragment string) (byte, []byte, *refuse.Error) {
	if at := strings.IndexFunc(fragment, foreign); at >= 0 {
		return 0, nil, damaged(fmt.Sprintf("the character %q at place %d never stands in one",
			[]rune(fragment[at:])[0], at+1))
	}
	whole := fragment
	if len(whole)%4 == 1 { // one letter too few or too many; what stands before it tells which
		whole = whole[:len(whole)-1]
	}
	raw, err := base64.RawURLEncoding.DecodeString(whole)
	if err != nil {
		return 0, nil, damaged("it is not base64url")
	}
	if len(raw) < headerSize {
		return 0, nil, cut(len(fragment), 0)
	}
	if raw[3] != headerCheck(raw) {
		return 0, nil, damaged("its first characters are not those it was sent with")
	}
	size := int(raw[1])<<8 | int(raw[2])
	body := raw[headerSize:]
	said := base64.RawURLEncoding.EncodedLen(headerSize + size)
	switch {
	case len(fragment) < said:
		return 0, nil, cut(len(fragment), said)
	case len(fragment) > said:
		return 0, nil, damaged(fmt.Sprintf("%d characters too many stand at its end", len(fragment)-said))
	}
	if _, err := base64.RawURLEncoding.Strict().DecodeString(fragment); err != nil ||
		crc32.ChecksumIEEE(body) != binary.BigEndian.Uint32(raw[4:8]) {
		return 0, nil, damaged("its checksum does not fit")
	}
	return raw[0], body, nil
}

// foreign tells characters that base64url does not have.
func foreign(r rune) bool {
	return !(r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '_')
}

// inflate reads a body, never more than maxPayload bytes of it.
func inflate(body []byte) ([]byte, *refuse.Error) {
	in := bytes.NewReader(body)
	payload, err := io.ReadAll(io.LimitReader(flate.NewReaderDict(in, []byte(dictionary1)), maxPayload+1))
	switch {
	case err != nil:
		return nil, damaged("what is inside cannot be unpacked")
	case len(payload) > maxPayload:
		return nil, refuse.Input("fragment", "this link unpacks to far more than a setup card",
			fmt.Sprintf("%d bytes", maxPayload), "do not trust it; ask the sender for a new one")
	case in.Len() > 0:
		return nil, damaged("something stands behind what is inside")
	}
	return payload, nil
}

func cut(have, want int) *refuse.Error {
	arrived := fmt.Sprintf("%d of %d characters arrived", have, want)
	if want == 0 {
		arrived = fmt.Sprintf("only %d characters arrived", have)
	}
	return refuse.Input("fragment", "this link was cut off: "+arrived, "the whole link",
		"ask the sender for it again, as a QR code or a file if the messenger shortens links")
}

func damaged(how string) *refuse.Error {
	return refuse.Input("fragment", "this link is damaged: "+how, "the link exactly as it was sent",
		"copy it again from where it was sent, or ask the sender for it")
}

package localca

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"text/template"
)

// ProfileType is the media type of a profile.
const ProfileType = "application/x-apple-aspen-config"

// Profile is the certificate in the form iPhones and iPads install: a
// configuration profile with one payload, "com.apple.security.root" in Apple's
// published profile reference. It is not signed, so the phone says "unverified".
func (a *Authority) Profile() ([]byte, error) {
	var out bytes.Buffer
	err := profileText.Execute(&out, map[string]string{
		"Name":    a.Certificate.Subject.CommonName,
		"Content": base64.StdEncoding.EncodeToString(a.Certificate.Raw),
		"ID":      fmt.Sprintf("local.pointsmith.%x", sha256.Sum256(a.Certificate.Raw))[:32],
		"Inner":   a.uuid("payload"), "Outer": a.uuid("profile"),
		"Limits": "It can vouch only for addresses inside a house: .local, .home.arpa, .internal, this machine, and private networks.",
	})
	if err != nil {
		return nil, fmt.Errorf("make the profile: %w", err)
	}
	return out.Bytes(), nil
}

// uuid is the same for the same certificate (RFC 9562, version 8), so that
// installing it twice does not list it twice.
func (a *Authority) uuid(of string) string {
	sum := sha256.Sum256(append([]byte(of+"\n"), a.Certificate.Raw...))
	sum[6], sum[8] = sum[6]&0x0f|0x80, sum[8]&0x3f|0x80
	return fmt.Sprintf("%X-%X-%X-%X-%X", sum[0:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}

func escaped(text string) (string, error) {
	var out bytes.Buffer
	err := xml.EscapeText(&out, []byte(text))
	return out.String(), err
}

var profileText = template.Must(template.New("profile").Funcs(
	template.FuncMap{"text": escaped}).Parse(`<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE plist PUBLIC "-//Apple//DTD PLIST 1.0//EN" "http://www.apple.com/DTDs/PropertyList-1.0.dtd">
<plist version="1.0">
<dict>
	<key>PayloadType</key><string>Configuration</string>
	<key>PayloadVersion</key><integer>1</integer>
	<key>PayloadIdentifier</key><string>{{text .ID}}</string>
	<key>PayloadUUID</key><string>{{text .Outer}}</string>
	<key>PayloadDisplayName</key><string>{{text .Name}}</string>
	<key>PayloadDescription</key><string>Lets this phone trust your own Pointsmith server. {{text .Limits}}</string>
	<key>PayloadContent</key>
	<array>
		<dict>
			<key>PayloadType</key><string>com.apple.security.root</string>
			<key>PayloadVersion</key><integer>1</integer>
			<key>PayloadIdentifier</key><string>{{text .ID}}.root</string>
			<key>PayloadUUID</key><string>{{text .Inner}}</string>
			<key>PayloadDisplayName</key><string>{{text .Name}}</string>
			<key>PayloadCertificateFileName</key><string>pointsmith.crt</string>
			<key>PayloadContent</key><data>{{text .Content}}</data>
		</dict>
	</array>
</dict>
</plist>
`))

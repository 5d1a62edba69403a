package web

import (
	"net/http"
	"time"

	"pointsmith/calc/schema"
	"pointsmith/store"
)

// A codeWish says what kind of code is wanted.
type codeWish struct {
	Owner bool `json:"owner" help:"the device may then let others in and shut them out itself"`
}

// A codeMade is a code to be shown to the other phone.
type codeMade struct {
	Code    string `json:"code" help:"to be read out: two halves of four"`
	Until   string `json:"until" help:"RFC 3339"`
	Path    string `json:"path" help:"of the app, for a link or a QR code behind this server's address"`
	Address string `json:"address" help:"where phones reach the app by a name that stays, such as https://pointsmith.local:7373; empty where no name answers"`
}

// postPairCode opens a one-time code.
func (s *Site) postPairCode(w http.ResponseWriter, r *http.Request) {
	text, ok := readBody(w, r, maxShort, maxShort)
	if !ok {
		return
	}
	wish, err := schema.Decode[codeWish](text)
	if err != nil {
		refuseInput(w, err)
		return
	}
	code, until, err := s.store.NewCode(wish.Owner, s.now())
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	s.log.Info("a pairing code was opened", "owner", wish.Owner, "by", memberOf(r).name())
	reply(w, codeMade{store.ShowCode(code), until.Format(time.RFC3339), JoinPath(code), s.lasting})
}

// JoinPath is where in the app a code is entered. What stands behind # is
// never sent to a server by a browser.
func JoinPath(code string) string { return "/#/join/" + code }

// name is how the log calls a member.
func (m member) name() string {
	if m.isHere {
		return "this machine"
	}
	return m.device.ID
}

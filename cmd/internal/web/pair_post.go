package web

import (
	"context"
	"errors"
	"math"
	"net/http"
	"strconv"
	"time"

	"pointsmith/calc"
	"pointsmith/calc/schema"
	"pointsmith/cmd/internal/shape"
	"pointsmith/store"
)

// A pairing is what a phone sends to be let in.
type pairing struct {
	Code string `json:"code" need:"yes" maxLen:"40" help:"as the server shows it; spaces, dashes and small letters make no difference"`
	Name string `json:"name" need:"yes" maxLen:"80" help:"what to call this device in the list"`
}

// A paired answers who the phone is from now on. Its token is in the cookie
// alone, where no script can read it.
type paired struct {
	Device device `json:"device"`
}

// postPair exchanges a one-time code for a token.
func (s *Site) postPair(w http.ResponseWriter, r *http.Request) {
	text, ok := readBody(w, r, maxShort, maxShort)
	if !ok {
		return
	}
	p, err := schema.Decode[pairing](text)
	if err == nil {
		if bad := shape.CheckName("name", p.Name, true); bad != nil {
			err = bad
		}
	}
	if err != nil {
		refuseInput(w, err)
		return
	}
	if !s.isGarageThere(w) {
		return
	}
	now := s.now()
	delay, again := s.tries.take(addressOf(r), now)
	if again > 0 {
		s.refuseHaste(w, r, again)
		return
	}
	if s.sleep(r.Context(), delay); r.Context().Err() != nil {
		return // whoever asked has gone; the try counts
	}
	token, d, isGuess, err := s.pair(p)
	if !isGuess {
		s.tries.forget(addressOf(r), now)
	}
	if err != nil {
		s.refusePairing(w, r, err)
		return
	}
	s.log.Info("paired", "device", d.ID, "name", d.Name, "owner", d.IsOwner, "from", r.RemoteAddr)
	setToken(w, r, token)
	reply(w, paired{describeDevice(d)})
}

// pair spends a code, one after the other, so that of several that send the
// same the first is let in and the others are known for what they are.
func (s *Site) pair(p pairing) (token string, d store.Device, isGuess bool, err error) {
	s.pairing.Lock()
	defer s.pairing.Unlock()
	token, d, err = s.store.Pair(p.Code, p.Name, s.now())
	if err == nil {
		s.tries.spend(p.Code, s.now())
	}
	isGuess = errors.Is(err, store.ErrCode) && !s.tries.isSpent(p.Code, s.now())
	return token, d, isGuess, err
}

// sleepWell waits, or until ctx ends.
func sleepWell(ctx context.Context, d time.Duration) {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
	case <-ctx.Done():
	}
}

func (s *Site) refusePairing(w http.ResponseWriter, r *http.Request, err error) {
	switch {
	case errors.Is(err, store.ErrCode):
		s.refuseAccess(w, r, calc.Problem{Status: http.StatusUnauthorized, Title: "This code does not open the garage",
			Field:  "code",
			Detail: "it is wrong, used, or too old", Limit: "8 letters and digits, good once and for ten minutes",
			Do: "type the code again, or make a new one with pointsmith pair on the server"})
	case errors.Is(err, store.ErrTooManyDevices):
		refuseWith(w, calc.Problem{Status: http.StatusConflict, Title: "The garage is paired with too many devices",
			Field:  "code",
			Detail: "there is no room for another", Limit: strconv.Itoa(store.MaxDevices) + " devices",
			Do: "revoke one that is no longer used; the code stays good"})
	default:
		s.refuseStore(w, err)
	}
}

func (s *Site) refuseHaste(w http.ResponseWriter, r *http.Request, wait time.Duration) {
	seconds := strconv.Itoa(int(math.Ceil(wait.Seconds())))
	w.Header().Set("Retry-After", seconds)
	s.refuseAccess(w, r, calc.Problem{Status: http.StatusTooManyRequests, Title: "Too many codes were tried",
		Field:  "code",
		Detail: "this one was not looked at", Limit: "10 a minute from one address, 20 a second in all",
		Do: "wait " + seconds + " seconds, then try again"})
}

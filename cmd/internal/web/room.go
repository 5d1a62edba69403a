package web

import (
	"context"
	"net/http"
	"strconv"
	"time"

	"golang.org/x/sync/semaphore"

	"pointsmith/calc"
)

// Room for the bodies of requests, in bytes, counted as they are announced: a
// body that is sent slowly holds its room from the start. Strangers, who may
// calculate and pair, have a room of their own, so that none of them keeps what
// a phone of the garage has to say. Chosen: a laptop of 4 GB does not feel it;
// the largest file and the largest table that are taken fit into one and the
// other; a dozen phones that send at once do not wait.
const (
	memberRoom   = MaxGarageFile
	strangerRoom = 32 << 20
	// roomWait is how long a request waits for room. A phone asks again by itself.
	roomWait = 5 * time.Second
	// slowest is how many bytes a second a body comes in at least, after
	// bodyStart: a sixtieth of what the oldest wireless networks carry.
	slowest   = 32 << 10
	bodyStart = 10 * time.Second
)

// rooms holds what bodies in flight take.
type rooms struct{ members, strangers *semaphore.Weighted }

func newRooms() rooms {
	return rooms{semaphore.NewWeighted(memberRoom), semaphore.NewWeighted(strangerRoom)}
}

// A stay is the room one request has, given back when it has been answered or,
// where kept, by whoever goes on with the body.
type stay struct {
	in    *rooms
	leave func()
}

type stayKey struct{}

// withRoom gives every request a stay.
func (s *Site) withRoom(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		here := &stay{in: &s.rooms, leave: func() {}}
		defer func() { here.leave() }()
		next.ServeHTTP(w, r.WithContext(context.WithValue(r.Context(), stayKey{}, here)))
	})
}

// keepRoom takes the request's room over; leave gives it back.
func keepRoom(r *http.Request) (leave func()) {
	here := r.Context().Value(stayKey{}).(*stay)
	leave, here.leave = here.leave, func() {}
	return leave
}

// takeRoom waits for room for a body of at most limit bytes, in the order in
// which requests came. When there is none in time it answers the request and
// returns false. A body of unknown length may take twice its limit while it grows.
func takeRoom(w http.ResponseWriter, r *http.Request, limit int64) bool {
	here := r.Context().Value(stayKey{}).(*stay)
	room, size := here.in.strangers, int64(strangerRoom)
	if m := memberOf(r); m.isHere || m.device.ID != "" {
		room, size = here.in.members, memberRoom
	}
	need := 2 * limit
	if r.ContentLength >= 0 {
		need = r.ContentLength
	}
	need = min(need, size)
	wait, stop := context.WithTimeout(r.Context(), roomWait)
	defer stop()
	if err := room.Acquire(wait, need); err != nil {
		setReadTime(w, bodyStart)
		drain(r)
		refuseBusy(w, roomWait, calc.Problem{Title: "Too much is being sent at once",
			Detail: "there was no room for this beside what others send",
			Limit:  strconv.FormatInt(size, 10) + " bytes at a time, and a wait of " + seconds(roomWait)})
		return false
	}
	here.leave = func() { room.Release(need) }
	return true
}

// refuseBusy answers that the server has its hands full just now.
func refuseBusy(w http.ResponseWriter, again time.Duration, p calc.Problem) {
	w.Header().Set("Retry-After", strconv.Itoa(int(again.Seconds())))
	p.Status, p.Do = http.StatusServiceUnavailable, "wait "+seconds(again)+", then try again"
	refuseWith(w, p)
}

func seconds(d time.Duration) string { return strconv.Itoa(int(d.Seconds())) + " seconds" }

// bodyTime is how long a body of a size may take to come in.
func bodyTime(size int64) time.Duration {
	return min(readTime, bodyStart+time.Duration(size)*time.Second/slowest)
}

// setReadTime says until when the rest of the request must have come; 0: for
// ever. Where it cannot be set the server's own limit stays.
func setReadTime(w http.ResponseWriter, left time.Duration) {
	until := time.Time{}
	if left > 0 {
		until = time.Now().Add(left)
	}
	_ = http.NewResponseController(w).SetReadDeadline(until)
}

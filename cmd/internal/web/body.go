package web

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"time"

	"pointsmith/calc"
	"pointsmith/store"
)

const (
	// maxCalc is the most that is sent to choose or to remove a document. Chosen:
	// as much as an input of most calculations (calc.MaxInput).
	maxCalc = 1 << 20
	// maxShort is enough for a code and a name.
	maxShort = 4 << 10
	// maxPush is a document's largest body and the few words around it.
	maxPush = store.MaxBody + 4<<10
	// maxDrain is how much of a refused body is read and thrown away, so that
	// the sender gets to hear why instead of a broken connection.
	maxDrain = 16 << 20
)

// readBody reads a request's body of at most limit bytes. When it is larger,
// comes too slowly, finds no room or breaks off it answers the request itself
// and returns false. Named in the answer is the limit of what counts, which may
// be less than the envelope's.
func readBody(w http.ResponseWriter, r *http.Request, limit, named int64) ([]byte, bool) {
	if r.ContentLength > limit {
		setReadTime(w, readTime)
		drain(r)
		refuseWith(w, tooLarge(named))
		return nil, false
	}
	if !takeRoom(w, r, limit) {
		return nil, false
	}
	if r.ContentLength >= 0 {
		limit = r.ContentLength
	}
	body := bytes.NewBuffer(make([]byte, 0, max(r.ContentLength, 0)+bytes.MinRead)) // read without growing
	_, err := body.ReadFrom(&paced{http.MaxBytesReader(w, r.Body, limit), w, time.Now().Add(bodyTime(limit))})
	if err == nil {
		setReadTime(w, 0) // a long answer is no slow request
		return body.Bytes(), true
	}
	if over := new(http.MaxBytesError); errors.As(err, &over) {
		drain(r)
		refuseWith(w, tooLarge(named))
		return nil, false
	}
	if errors.Is(err, os.ErrDeadlineExceeded) {
		refuseWith(w, calc.Problem{Status: http.StatusRequestTimeout, Title: "This comes too slowly",
			Detail: "not everything arrived in time",
			Limit:  seconds(bodyTime(limit)) + ", and " + seconds(bodyStart) + " without a byte",
			Do:     "go nearer to the access point, then send it again"})
		return nil, false
	}
	refuseWith(w, calc.Problem{Status: http.StatusBadRequest, Title: "The request broke off",
		Detail: "not everything arrived", Do: "send it again"})
	return nil, false
}

// paced reads a body that must not stop for long, and has an end.
type paced struct {
	io.Reader
	w   http.ResponseWriter
	end time.Time
}

func (p *paced) Read(to []byte) (int, error) {
	setReadTime(p.w, max(min(bodyStart, time.Until(p.end)), time.Nanosecond))
	return p.Reader.Read(to)
}

// drain reads what is refused and throws it away.
func drain(r *http.Request) { _, _ = io.CopyN(io.Discard, r.Body, maxDrain) }

func tooLarge(limit int64) calc.Problem {
	return calc.Problem{Status: http.StatusRequestEntityTooLarge, Title: "This is too large",
		Detail: "more was sent than is taken",
		Limit:  fmt.Sprintf("%d bytes", limit), Do: "leave something out, or split it in two"}
}

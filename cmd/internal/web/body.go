package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"

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

// readBody reads a request's body of at most limit bytes. When it is larger or
// breaks off it answers the request itself and returns false. Named in the
// answer is the limit of what counts, which may be less than the envelope's.
func readBody(w http.ResponseWriter, r *http.Request, limit, named int64) ([]byte, bool) {
	body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, limit))
	if err == nil {
		return body, true
	}
	if over := new(http.MaxBytesError); errors.As(err, &over) {
		_, _ = io.CopyN(io.Discard, r.Body, maxDrain)
		refuseWith(w, tooLarge(named))
		return nil, false
	}
	refuseWith(w, calc.Problem{Status: http.StatusBadRequest, Title: "The request broke off",
		Detail: "not everything arrived", Do: "send it again"})
	return nil, false
}

func tooLarge(limit int64) calc.Problem {
	return calc.Problem{Status: http.StatusRequestEntityTooLarge, Title: "This is too large",
		Detail: "more was sent than is taken",
		Limit:  fmt.Sprintf("%d bytes", limit), Do: "leave something out, or split it in two"}
}

package web

import (
	"net/http"
	"strconv"
	"time"

	"pointsmith/calc"
)

// backupTime is how long a backup may take to be read.
const backupTime = 30 * time.Minute

// getBackup answers with the garage file as it stands at this moment. It goes
// on working meanwhile.
func (s *Site) getBackup(w http.ResponseWriter, _ *http.Request) {
	// if it cannot be set the usual limit stays
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(backupTime))
	isAnnounced := false
	err := s.store.WriteTo(w, func(size int64) {
		isAnnounced = true
		w.Header().Set("Content-Type", "application/octet-stream")
		w.Header().Set("Cache-Control", "no-store")
		w.Header().Set("Content-Disposition", `attachment; filename="garage.db"`)
		w.Header().Set("Content-Length", strconv.FormatInt(size, 10))
	})
	if err != nil && !isAnnounced {
		s.refuseStore(w, err)
		return
	}
	if err != nil {
		s.log.Error("the backup broke off", "error", err)
		panic(http.ErrAbortHandler) // the other end must not take half for whole
	}
}

// forThisMachine lets a handler answer requests made on this machine only:
// the whole garage goes in or out.
func (s *Site) forThisMachine(handle http.HandlerFunc) http.HandlerFunc {
	return s.forMembers(func(w http.ResponseWriter, r *http.Request) {
		if !s.isFromHere(r) {
			s.refuseAccess(w, r, calc.Problem{Status: http.StatusForbidden,
				Title: "This is done on the server's own machine", Field: "Host",
				Detail: "the whole garage goes in or out here", Limit: "requests made on the server itself",
				Do: "run pointsmith backup, export or import there; a phone exports what it holds on its settings page"})
			return
		}
		handle(w, r)
	})
}

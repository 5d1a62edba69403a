package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"runtime/debug"
	"time"

	"pointsmith/calc"
)

// callCalc runs a calculation when its turn has come.
func (s *Site) callCalc(w http.ResponseWriter, r *http.Request) {
	method := pathValue(r, "method")
	most := int64(calc.MaxInput(method))
	in, ok := readBody(w, r, most, most)
	if !ok {
		return
	}
	leave, err := s.lanes.of(method, len(in)).Enter(r.Context(), householdOf(addressOf(r)).String(), calcWait)
	if err != nil {
		if r.Context().Err() == nil {
			refuseCrowd(w)
		}
		return // whoever asked has gone
	}
	leaveRoom := keepRoom(r)
	out, err := s.calculate(r.Context(), method, in, func() {
		leave()
		leaveRoom()
	})
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		s.log.Warn("a calculation was given up", "method", method, "bytes", len(in), "from", r.RemoteAddr)
		refuseBusy(w, calcTime, calc.Problem{Title: "This calculation takes too long",
			Detail: "it was given up", Limit: seconds(calcTime)})
	case r.Context().Err() != nil: // whoever asked has gone
	case err != nil:
		refuseWith(w, calc.AsProblem(err))
	default:
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("Cache-Control", "no-store")
		_, _ = w.Write(out) // fails only when the phone has gone
	}
}

// calculate waits for the answer until the time is over or ctx ends. What was
// begun then goes on to its end, because calculations know of no clock, and
// keeps its place until then: done is called when it ends.
func (s *Site) calculate(ctx context.Context, method string, in []byte, done func()) (out []byte, err error) {
	type answer struct {
		out []byte
		err error
	}
	answered := make(chan answer, 1)
	go func() {
		defer done()
		defer func() {
			if fault := recover(); fault != nil {
				s.log.Error("a calculation failed", "method", method, "fault", fault, "stack", string(debug.Stack()))
				answered <- answer{nil, fmt.Errorf("the calculation %s stopped working on this input", method)}
			}
		}()
		out, err := s.lanes.call(method, in)
		answered <- answer{out, err}
	}()
	timer := time.NewTimer(calcTime)
	defer timer.Stop()
	select {
	case a := <-answered:
		return a.out, a.err
	case <-timer.C:
		return nil, context.DeadlineExceeded
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func refuseCrowd(w http.ResponseWriter) {
	refuseBusy(w, crowdAgain, calc.Problem{Title: "Too many calculations are asked for",
		Detail: "this one's turn did not come",
		Limit:  fmt.Sprintf("%d that wait, %s each", calcQueue, seconds(calcWait))})
}

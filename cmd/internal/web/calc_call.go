package web

import (
	"net/http"

	"pointsmith/calc"
)

// callCalc runs a calculation. No more run at a time than there are
// processors, so that a phone with a long one cannot hold up the garage.
func (s *Site) callCalc(w http.ResponseWriter, r *http.Request) {
	most := int64(calc.MaxInput(pathValue(r, "method")))
	in, ok := readBody(w, r, most, most)
	if !ok {
		return
	}
	select {
	case s.slots <- struct{}{}:
		defer func() { <-s.slots }()
	case <-r.Context().Done():
		return
	}
	out, err := calc.Call(pathValue(r, "method"), in)
	if err != nil {
		refuseWith(w, calc.AsProblem(err))
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write(out) // fails only when the phone has gone
}

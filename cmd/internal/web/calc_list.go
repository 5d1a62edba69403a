package web

import (
	"net/http"

	"pointsmith/calc"
)

// listCalc answers with the table of calculations.
func (s *Site) listCalc(w http.ResponseWriter, _ *http.Request) { reply(w, calc.Describe()) }

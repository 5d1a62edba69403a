package web

import (
	"encoding/json"
	"fmt"

	"pointsmith/calc/refuse"
	"pointsmith/cmd/internal/shape"
)

func refuseKind(kind string) *refuse.Error {
	return refuse.Input("kind", fmt.Sprintf("%.40q is not a kind of document", kind), shape.AnyKind(),
		"use one of them in the address")
}

// A pushed is what a phone sends to PUT.
type pushed struct {
	Base      string          `json:"base" maxLen:"64" help:"revision it was edited from, empty for a new document"`
	ChangedAt string          `json:"changedAt" need:"yes" maxLen:"40" help:"when it was typed, RFC 3339"`
	Device    string          `json:"device" maxLen:"80" help:"name of the phone, for the names of kept copies"`
	Body      json.RawMessage `json:"body" need:"yes"`
}

// A removed is what a phone sends to DELETE.
type removed struct {
	Base      string `json:"base" maxLen:"64" help:"revision that was looked at when it was deleted"`
	ChangedAt string `json:"changedAt" need:"yes" maxLen:"40" help:"when it was deleted, RFC 3339"`
	Device    string `json:"device" maxLen:"80" help:"name of the phone"`
}

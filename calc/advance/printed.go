package advance

// Printed gives the book's band at one engine speed as Expect prints it, without what sound governors can do beside
// it: that has to be sampled and takes a hundred times as long. Only where the book leaves an edge of a row open is
// it sampled here too. Refused: as Expect.
func Printed(s Spec, engineRPM float64) (BandPoint, error) {
	b, bad := bandOf(s)
	if bad != nil {
		return BandPoint{}, bad
	}
	if bad := b.need(true); bad != nil {
		return BandPoint{}, bad
	}
	low, high, held := b.printed(engineRPM, true)
	p := BandPoint{EngineRPM: engineRPM, MinCrankDeg: low, MaxCrankDeg: high, Held: held, Silent: b.silent(engineRPM)}
	if held {
		p.Note = b.heldNote(engineRPM)
	}
	return p, nil
}

// AdvanceAt is the frictionless advance of the governor at a distributor speed, distributor degrees: what WhatIf
// draws as its curve.
func (m Model) AdvanceAt(distRPM float64) float64 { return m.at(distRPM) }

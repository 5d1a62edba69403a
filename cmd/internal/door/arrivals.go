package door

import "sync"

// mostMarkers is how many visits are remembered; a further one forgets the
// oldest.
const mostMarkers = 200

const markerLength = 26 // of rand.Text

// An arrival says that a marker came back, and whether it did by the name that
// stays.
type arrival struct{ is, byName bool }

// arrivals knows the markers that were given out and which came back. Its
// zero value is ready.
type arrivals struct {
	mu    sync.Mutex
	order []string
	known map[string]arrival
}

func (a *arrivals) expect(marker string) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.known == nil {
		a.known = map[string]arrival{}
	}
	a.known[marker] = arrival{}
	if a.order = append(a.order, marker); len(a.order) > mostMarkers {
		delete(a.known, a.order[0])
		a.order = a.order[1:]
	}
}

// remember takes up a marker of ours again that a page still shows although it
// was forgotten, as after a restart.
func (a *arrivals) remember(marker string) {
	a.mu.Lock()
	_, isKnown := a.known[marker]
	a.mu.Unlock()
	if !isKnown && len(marker) == markerLength {
		a.expect(marker)
	}
}

// arrive notes a marker that was given out; others are nobody's.
func (a *arrivals) arrive(marker string, byName bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if before, isKnown := a.known[marker]; isKnown {
		a.known[marker] = arrival{true, byName || before.byName}
	}
}

func (a *arrivals) hasArrived(marker string) (is, byName bool) {
	a.mu.Lock()
	defer a.mu.Unlock()
	at := a.known[marker]
	return at.is, at.byName
}

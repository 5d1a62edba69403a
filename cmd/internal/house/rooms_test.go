package house

import (
	"fmt"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// folderFiles is how many files of the app one folder may hold: as many names
// as can be taken in at a look. Chosen.
const folderFiles = 25

// The floors of the app and what each stands on. Every room may use all of
// them; frame, which nothing imports, uses the rooms.
var floors = map[string][]string{
	"kit":    {},
	"kept":   {"kit"},
	"engine": {"kept", "kit"}, // kept/server.js says whether there is a server to ask instead
	"record": {"engine", "kept", "kit"},
	"safety": {"kept", "kit", "record"},
}

const frame = "frame"

// The rooms that use another one, and why. Whatever more than two rooms need
// belongs on a floor instead.
var betweenRooms = map[[2]string]string{
	{"bay", "ear"}:             "a speed that a step asks for may be heard",
	{"bay", "electrics"}:       "the step of the points judges by the same book figure",
	{"bay", "readings"}:        "a reading is worded as where readings are entered",
	{"bay", "scatter"}:         "the step of the cylinders is judged by what was typed there",
	{"bay", "vacuum"}:          "the step of the capsule is judged by what was typed there",
	{"bay", "state"}:           "while the curve fails the work measures and moves nothing",
	{"bench", "job"}:           "a distributor by itself has a chain of work and a next step as a car has",
	{"bench", "state"}:         "the bench says of every distributor how it stands",
	{"choose", "scatter"}:      "the earliest cylinder takes its share of the margin to knock",
	{"card", "bench"}:          "the card says what was done by the names that work is noted by",
	{"card", "job"}:            "the card says what comes next, as the car's page does",
	{"curve", "state"}:         "what fails on the car comes before more readings",
	{"electrics", "condition"}: "what is measured of the condenser is a condition check",
	{"garage", "bench"}:        "the bench lies beside the garage, on the same page",
	{"garage", "job"}:          "the list says of every car what is next",
	{"garage", "state"}:        "the list says of every car how it stands",
	{"history", "electrics"}:   "how dwell drifts is told from what was read of the points",
	{"hunt", "state"}:          "what is on file of a car speaks in the hunt: the pages' verdicts and the checks",
	{"job", "bay"}:             "the order of work names the procedure of a step and its judge",
	{"job", "electrics"}:       "the car's page says how far points and feed have come",
	{"job", "state"}:           "the order of work goes on while nothing fails",
	{"job", "vacuum"}:          "the order of work has a step of the capsule",
	{"readings", "ear"}:        "a speed may be heard instead of typed",
	{"state", "condition"}:     "the worst of all that is known: the checks",
	{"state", "electrics"}:     "the worst of all that is known: feed, points, coil, spark",
	{"state", "scatter"}:       "the worst of all that is known: the cylinders",
	{"state", "vacuum"}:        "the worst of all that is known: the capsule",
	{"sharing", "card"}:        "two versions are laid side by side as two cards are",
	{"why", "choose"}:          "the picture is of the same engine that a curve is chosen for",
	{"why", "vacuum"}:          "the capsule of the picture is the one of its own page",
	{"why", "electrics"}:       "points and coil are those of their own pages, figure by figure",
}

// An import, static or not, of code, of a worker, or of a type alone.
var scriptImport = regexp.MustCompile(`(?:\bfrom\s*|\bimport\s*\(?\s*|\bnew URL\(\s*)["']([^"']+\.js)["']`)

// appImports gives for every script of the app what it imports, by their paths
// under pwa/app/js.
func appImports(t *testing.T) map[string][]string {
	t.Helper()
	imports := map[string][]string{}
	seen := 0
	appScripts(t, func(name, text string) {
		imports[name] = []string{}
		for _, found := range scriptImport.FindAllStringSubmatch(text, -1) {
			target := path.Join(path.Dir(name), found[1])
			if strings.HasPrefix(target, "../") { // the engine's own loader, in pwa/app/wasm
				continue
			}
			seen++
			imports[name] = append(imports[name], target)
		}
	})
	if seen < 500 {
		t.Fatalf("only %d imports found; the pattern is broken", seen)
	}
	for name, targets := range imports {
		for _, target := range targets {
			if _, is := imports[target]; !is {
				t.Errorf("js/%s imports js/%s, which is not there", name, target)
			}
		}
	}
	return imports
}

func roomOf(name string) string {
	room, _, _ := strings.Cut(name, "/")
	return room
}

func TestFoldersOfTheAppCanBeTakenIn(t *testing.T) {
	held := map[string]int{}
	appScripts(t, func(name, _ string) {
		held[path.Dir(name)]++
		if !strings.Contains(name, "/") {
			t.Errorf("js/%s lies in no room", name)
		}
	})
	for folder, n := range held {
		if n > folderFiles {
			t.Errorf("js/%s holds %d files; at most %d: group them", folder, n, folderFiles)
		}
	}
}

// No file of the app imports itself by way of others, not even for a type.
func TestScriptsImportInNoCircle(t *testing.T) {
	imports := appImports(t)
	const under, done = 1, 2
	state := map[string]int{}
	var visit func(name string, way []string)
	visit = func(name string, way []string) {
		way = append(way, name)
		state[name] = under
		for _, next := range imports[name] {
			switch state[next] {
			case under:
				t.Errorf("a circle: %s", strings.Join(append(way[slices.Index(way, next):], next), " → "))
			case done:
			default:
				visit(next, way)
			}
		}
		state[name] = done
	}
	for _, name := range slices.Sorted(maps.Keys(imports)) {
		if state[name] == 0 {
			visit(name, nil)
		}
	}
}

// arrows gives which folder at the top of pwa/app/js uses which, each with one
// import that shows it.
func arrows(t *testing.T) map[[2]string]string {
	t.Helper()
	found := map[[2]string]string{}
	for name, targets := range appImports(t) {
		for _, target := range targets {
			arrow := [2]string{roomOf(name), roomOf(target)}
			shown := fmt.Sprintf("js/%s imports js/%s", name, target)
			if before, is := found[arrow]; arrow[0] != arrow[1] && (!is || shown < before) {
				found[arrow] = shown
			}
		}
	}
	return found
}

func TestRoomsUseWhatTheyStandOn(t *testing.T) {
	found := arrows(t)
	for arrow, shown := range found {
		from, to := arrow[0], arrow[1]
		_, toFloor := floors[to]
		stands, fromFloor := floors[from]
		_, isListed := betweenRooms[arrow]
		switch {
		case to == frame:
			t.Errorf("%s: nothing imports the frame", shown)
		case fromFloor && !slices.Contains(stands, to):
			t.Errorf("%s: %s stands on %s alone", shown, from, strings.Join(stands, ", "))
		case !fromFloor && from != frame && !toFloor && !isListed:
			t.Errorf("%s: rooms do not use one another; what both need belongs on a floor, or the arrow on the list with its reason", shown)
		}
	}
	for arrow := range betweenRooms {
		if found[arrow] == "" {
			t.Errorf("%s no longer uses %s: take the arrow off the list", arrow[0], arrow[1])
		}
	}
}

const (
	arrowsBegin = "<!-- arrows: kept by cmd/internal/house -->\n"
	arrowsEnd   = "<!-- end of arrows -->"
)

func TestDevelopersKnowTheArrows(t *testing.T) {
	want := arrowTable(arrows(t))
	_, rest, hasBegin := strings.Cut(read(t, "DEVELOPERS.md"), arrowsBegin)
	have, _, hasEnd := strings.Cut(rest, arrowsEnd)
	if !hasBegin || !hasEnd || strings.TrimSpace(have) != strings.TrimSpace(want) {
		t.Errorf("the table of arrows in DEVELOPERS.md is not what the app does; put this between the two marks:\n%s",
			want)
	}
}

// arrowTable writes who uses whom: floors first from the ground up, then the
// rooms, then the frame.
func arrowTable(found map[[2]string]string) string {
	uses := map[string][]string{}
	for arrow := range found {
		uses[arrow[0]] = append(uses[arrow[0]], arrow[1])
		uses[arrow[1]] = append(uses[arrow[1]], "")
	}
	order := func(name string) int {
		if name == frame {
			return 100
		}
		if at := slices.Index([]string{"kit", "kept", "engine", "record", "safety"}, name); at >= 0 {
			return at
		}
		return 50
	}
	byOrder := func(a, b string) int {
		if order(a) != order(b) {
			return order(a) - order(b)
		}
		return strings.Compare(a, b)
	}
	var table strings.Builder
	table.WriteString("| folder | stands on | uses of the other rooms |\n|---|---|---|\n")
	for _, folder := range slices.SortedFunc(maps.Keys(uses), byOrder) {
		var below, beside []string
		for _, used := range slices.SortedFunc(slices.Values(uses[folder]), byOrder) {
			if _, isFloor := floors[used]; isFloor {
				below = append(below, used)
			} else if used != "" {
				beside = append(beside, used)
			}
		}
		fmt.Fprintf(&table, "| %s | %s | %s |\n", folder, strings.Join(below, ", "), strings.Join(beside, ", "))
	}
	return table.String()
}

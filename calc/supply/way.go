package supply

// place is one point on the way, in the order the current takes from the
// battery's live post to its earth post.
type place struct {
	id   string
	name string
}

var way = []place{
	{"battery", "battery live post"},
	{"switchIn", "ignition switch, in"},
	{"switchOut", "ignition switch, out"},
	{"ballastIn", "ballast, in"},
	{"ballastOut", "ballast, out"},
	{"coilFeed", "coil, feed terminal"},
	{"coilPoints", "coil, distributor terminal"},
	{"distributor", "distributor terminal"},
	{"body", "distributor body"},
	{"engine", "engine block"},
	{"earthPost", "battery earth post"},
}

func index(id string) int {
	for i, p := range way {
		if p.id == id {
			return i
		}
	}
	return -1
}

// part is a stretch whose ends are next to each other on the way, with the
// most it may drop.
type part struct {
	name   string
	limit  float64 // volts; 0 where the part is a load and no limit of a connection applies
	source string
	cure   string
}

const (
	practice   = "common practice"
	tenth      = "0.1 V: US Navy NAVEDTRA 14329, fig 6-48 view C; a maker's workshop manual"
	feedLimit  = 0.3
	feedSource = "0.3 V from battery to coil without ballast: common practice"
)

// parts by the place a stretch begins at, all places measured.
var parts = map[string]part{
	"battery": {"battery clamp and the lead to the switch", 0.1, practice,
		"Clean clamp and post, look at the fuse and every joint on the way; flex the lead while watching the meter."},
	"switchIn": {"ignition switch", 0.1, practice, "Work the switch several times; if the drop stays, its contacts are burnt. A bridge across it for a moment proves it."},
	"switchOut": {"lead from switch to coil or ballast", 0.1, practice,
		"Plug connectors and bullets first: pull, clean, push together."},
	"ballastIn": {"ballast", 0, "", ""},
	"ballastOut": {"lead from ballast to coil", 0.1, practice,
		"Clean and tighten its terminals; they run hot and corrode."},
	"coilFeed": {"coil primary", 0, "", ""},
	"coilPoints": {"lead from coil to distributor", 0.1, practice,
		"Clean and tighten both ends; flex it: strands break inside the insulation."},
	"distributor": {"points, inner lead and plate earth", 0.1, tenth,
		"Draw clean card through the closed points, then look at the inner lead and the plate's earth lead. Burnt or oily faces: replace the points."},
	"body": {"distributor clamp to engine", 0.05, "0.05 V: common practice",
		"Oil or paint under the clamp insulates the body: clean both faces."},
	"engine": {"engine strap and earth lead", 0.1, practice, "Clean both ends of strap and earth lead to bare metal."},
}

// stretchOf names what lies between two places and adds up its limit. A
// stretch with a load in it has no limit of its own.
func stretchOf(from, to int) (name string, limit float64, sources, cures []string) {
	load := false
	for i := from; i < to; i++ {
		p := parts[way[i].id]
		if name != "" {
			name += ", "
		}
		name += p.name
		load = load || p.limit == 0
		limit += p.limit
		if p.source != "" {
			sources = append(sources, p.source)
			cures = append(cures, p.cure)
		}
	}
	if load {
		limit = 0
	}
	return name, limit, sources, cures
}

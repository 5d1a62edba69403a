package cap

import (
	"fmt"
	"math"
	"slices"

	"pointsmith/calc/refuse"
)

// PlanIn describes the cap of a car.
type PlanIn struct {
	Cylinders      int     `json:"cylinders" need:"yes" min:"1" max:"16" help:"cylinders, as many as posts round the rim"`
	FiringOrder    []int   `json:"firingOrder" need:"yes" min:"1" max:"16" minItems:"1" maxItems:"16" help:"cylinders in the order they fire, No. 1 first"`
	Rotation       string  `json:"rotation" need:"yes" enum:"clockwise|anticlockwise" help:"which way the rotor turns, seen from the cap end"`
	FirstPostClock float64 `json:"firstPostClock" need:"yes" min:"0" max:"12" unit:"hours on a clock face" help:"where the post of No. 1 stands; 7.5 is half past seven"`
	Banks          [][]int `json:"banks,omitempty" maxItems:"4" help:"cylinders of each bank, front to rear, to find neighbours that fire in succession"`
	GearTeeth      int     `json:"gearTeeth,omitempty" min:"0" max:"60" unit:"teeth" help:"teeth of the drive gear on the distributor shaft"`
	DriveRatio     float64 `json:"driveRatio,omitempty" min:"0" max:"4" unit:"engine turns per distributor turn" help:"2 unless said"`
}

// Post is one terminal of the cap.
type Post struct {
	Clock    float64 `json:"clock" unit:"hours on a clock face" help:"where it stands, over 0 to 12"`
	Cylinder int     `json:"cylinder" help:"the cylinder its lead goes to"`
	Flash    int     `json:"flash" help:"its place in the firing order, from 1"`
	AngleDeg float64 `json:"angleDeg" unit:"degrees" help:"clockwise from 12 on the clock face, 0 to under 360"`
	Say      string  `json:"say" help:"the position in words"`
}

// Neighbours are two cylinders side by side on one bank that fire one after
// the other.
type Neighbours struct {
	First  int    `json:"first" help:"the one that fires first"`
	Second int    `json:"second" help:"the one that fires next, beside it"`
	Text   string `json:"text" help:"what to do about it"`
}

// PlanOut is the plan of the cap.
type PlanOut struct {
	Posts        []Post       `json:"posts" help:"posts in firing order"`
	Pairs        [][]int      `json:"pairs" help:"cylinders at the same crank position, one turn apart; the strobe shows the same mark on both"`
	Neighbours   []Neighbours `json:"neighbours" help:"leads that must not lie side by side; empty when banks are not given"`
	PitchDistDeg float64      `json:"pitchDistDeg" unit:"distributor degrees" help:"from post to post"`
	ToothDistDeg *float64     `json:"toothDistDeg,omitempty" unit:"distributor degrees" help:"what one tooth of the drive gear turns the rotor"`
	ToothCrank   *float64     `json:"toothCrankDeg,omitempty" unit:"crank degrees" help:"the same as timing"`
	Notes        []string     `json:"notes" help:"what to mind"`
	Working      []string     `json:"working" help:"the rule with these figures in it"`
	Sources      []string     `json:"sources" help:"where the rules come from"`
}

// Plan lays out the cap: from the post of No. 1, in the direction the rotor
// turns, one post every 360 / cylinders distributor degrees in firing order.
// One tooth of a drive gear with T teeth is 360 / T distributor degrees.
// Refused: an order that does not name each cylinder once with No. 1 first;
// a bank with a cylinder that does not exist or stands twice. Sources:
// arithmetic; that leads of neighbours firing in succession are kept apart is
// from a 1982 US maker's bulletin on crossfire between leads.
func Plan(in PlanIn) (PlanOut, error) {
	if bad := CheckOrder("firingOrder", in.FiringOrder, in.Cylinders); bad != nil {
		return PlanOut{}, bad
	}
	if bad := checkBanks(in.Banks, in.Cylinders); bad != nil {
		return PlanOut{}, bad
	}
	out := PlanOut{Pairs: Pairs(in.FiringOrder), Neighbours: neighbours(in), PitchDistDeg: 360 / float64(in.Cylinders),
		Notes: []string{}, Sources: []string{"arithmetic"}}
	for i, c := range in.FiringOrder {
		out.Posts = append(out.Posts, in.post(i, c))
	}
	out.Working = []string{fmt.Sprintf("From post to post: 360 / %d = %.4g distributor degrees, %s from No. 1 at %s.",
		in.Cylinders, out.PitchDistDeg, in.Rotation, out.Posts[0].Say)}
	if len(out.Pairs) == 0 && in.Cylinders > 1 {
		out.Notes = append(out.Notes, "With an odd number of cylinders no two share a crank position.")
	}
	if len(out.Neighbours) > 0 {
		out.Sources = append(out.Sources, "a 1982 US maker's bulletin on crossfire between leads")
	}
	in.tooth(&out)
	return out, nil
}

func (in PlanIn) post(i, cylinder int) Post {
	turn := 1.0
	if in.Rotation == "anticlockwise" {
		turn = -1
	}
	hours := math.Mod(in.FirstPostClock+turn*12*float64(i)/float64(in.Cylinders)+24, 12)
	if hours < 1e-9 || hours > 12-1e-9 {
		hours = 12
	}
	return Post{Clock: hours, Cylinder: cylinder, Flash: i + 1, AngleDeg: math.Mod(hours*30, 360),
		Say: saysClock(hours)}
}

// saysClock gives an hour on the face in words: "half past 7", "6:15".
func saysClock(hours float64) string {
	minutes := int(math.Round(hours * 60))
	h, m := minutes/60%12, minutes%60
	if h == 0 {
		h = 12
	}
	switch m {
	case 0:
		return fmt.Sprintf("%d o'clock", h)
	case 30:
		return fmt.Sprintf("half past %d", h)
	}
	return fmt.Sprintf("%d:%02d on the clock face", h, m)
}

func checkBanks(banks [][]int, cylinders int) *refuse.Error {
	seen := map[int]bool{}
	for i, bank := range banks {
		for j, c := range bank {
			if c < 1 || c > cylinders || seen[c] {
				return refuse.Input(fmt.Sprintf("banks[%d][%d]", i, j),
					fmt.Sprintf("cylinder %d does not exist or stands twice", c),
					fmt.Sprintf("each of the cylinders 1 to %d at most once", cylinders),
					"list each bank from front to rear")
			}
			seen[c] = true
		}
	}
	return nil
}

// neighbours finds cylinders beside one another on a bank that follow one
// another in the firing order.
func neighbours(in PlanIn) []Neighbours {
	out := []Neighbours{}
	for i, first := range in.FiringOrder {
		second := in.FiringOrder[(i+1)%len(in.FiringOrder)]
		for _, bank := range in.Banks {
			a, b := slices.Index(bank, first), slices.Index(bank, second)
			if a >= 0 && b >= 0 && (a-b == 1 || b-a == 1) {
				out = append(out, Neighbours{first, second, fmt.Sprintf(
					"Nos %d and %d stand side by side and fire one after the other. Keep their leads apart or let them cross at right angles: run side by side, the spark of No. %d can fire No. %d early.", first, second, first, second)})
			}
		}
	}
	return out
}

// tooth says what one tooth of the drive gear does to rotor and timing.
func (in PlanIn) tooth(out *PlanOut) {
	if in.GearTeeth == 0 {
		return
	}
	ratio := in.DriveRatio
	if ratio == 0 {
		ratio = 2
	}
	dist := 360 / float64(in.GearTeeth)
	crank := dist * ratio
	out.ToothDistDeg, out.ToothCrank = &dist, &crank
	out.Working = append(out.Working,
		fmt.Sprintf("One tooth: 360 / %d = %.2f distributor degrees; × %g = %.1f crank degrees.", in.GearTeeth, dist,
			ratio, crank))
	out.Notes = append(out.Notes, fmt.Sprintf("One tooth out turns the rotor %.0f° of its own turn. The body has then to be turned as far to time the engine, and may foul before it gets there.", dist))
}

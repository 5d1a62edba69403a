package sound

import "math"

// Chosen: what firings may do to lines.
var (
	// of a line to which all firings add up, over what lies beside it
	loudness = []float64{1, 5, 25, 125, 800}
	// of the other lines at low pitch, from all cylinders alike to one or two that miss
	likeness  = []float64{0.0004, 0.003, 0.015, 0.06, 0.25}
	likePrior = []float64{0.1, 0.2, 0.3, 0.28, 0.12}
	parting   = []float64{500, 2500} // Hz at which runners of different length have parted the cylinders' sounds
)

// account is how well one engine speed explains the lines of a sound.
type account struct {
	cycleHz float64
	worth   float64   // logarithm of how much better than noise with a few stray tones
	lines   []float64 // logarithm of the height of each over its surroundings; 0 where it was not looked at
	means   []float64 // how much is averaged in each
}

// dull is the logarithm of how likely noise or a stray tone is to make a line
// so high, where the height is a mean of n.
func dull(y, n float64) float64 {
	g, _ := math.Lgamma(n)
	noise := n*math.Log(n) + (n-1)*math.Log(y) - n*y - g
	return math.Log(0.9*math.Exp(noise) + 0.015/math.Pow(1+y, 1.15) + 1e-300)
}

// bright is the same for a line of a mean height of 1 + s, with room for the
// resonances of pipes.
func bright(y, s, n float64) float64 {
	n = math.Min(n, 3)
	u := n * y / (1 + s) / 3
	a, _ := math.Lgamma(n)
	b, _ := math.Lgamma(n + 3)
	return b - a - math.Log(2) + (n-1)*math.Log(u) - (n+3)*math.Log1p(u) + math.Log(n/3) - math.Log(1+s)
}

// gains is bright less dull, by how much is averaged and the logarithms of s
// and y, in tenths.
var gained = newGains()

const (
	gainStep           = 10.0
	gainLowY, gainLowS = -4.0, -6.0
	gainY, gainS       = 160, 140
	gainN              = 5 // 1, 2, 4, 8, 16
	blank              = gainN * gainY
)

func newGains() [][]float32 {
	table := make([][]float32, gainS)
	for i := range table {
		table[i] = make([]float32, gainN*gainY+1) // the last stays 0: a line that is not looked at
		s := math.Exp(gainLowS + float64(i)/gainStep)
		for j := range gainN * gainY {
			y, n := math.Exp(gainLowY+float64(j%gainY)/gainStep), float64(int(1)<<(j/gainY))
			table[i][j] = float32(bright(y, s, n) - dull(y, n))
		}
	}
	return table
}

// levels of likeness, evenly by logarithm from likeLow to 1.
const (
	likeLevels = 18
	likeLow    = 0.0004
)

// rows gives for each level of likeness, loudness and line the row of the
// table of gains.
func (b beat) tabled() [likeLevels][][]int16 {
	var out [likeLevels][][]int16
	for l := range out {
		like := math.Pow(likeLow, 1-float64(l)/(likeLevels-1))
		out[l] = make([][]int16, len(loudness))
		for i, loud := range loudness {
			out[l][i] = make([]int16, len(b.weight))
			for k, w := range b.weight {
				logS := math.Log(loud * (w + like*(1-w)))
				out[l][i][k] = int16(max(0, min(gainS-1, int((logS-gainLowS)*gainStep+0.5))))
			}
		}
	}
	return out
}

// column is where the table has a line of a height, given as logarithm and
// as a mean of n.
func column(height, n float64) int {
	at := max(0, min(gainY-1, int((height-gainLowY)*gainStep+0.5)))
	for n >= 1.5 && at < (gainN-1)*gainY {
		at += gainY
		n /= 2
	}
	return at
}

// weigh gives the account of one speed. Lines are taken in stretches of three
// firings, each with a loudness of its own; how alike the cylinders are is
// one for all, and less the higher the pitch.
// With mains, lines at multiples of that frequency are left out.
func (b beat) weigh(s *spectrum, cycleHz, mains float64) account {
	a, columns, first := b.measured(s, cycleHz, mains)
	var sums [profiles]float64
	for from := first; from < len(columns); {
		to := b.end(from, len(columns), cycleHz)
		var known [likeLevels]float64
		for i, level := range levelsAt(float64(from+to) / 2 * cycleHz) {
			if known[level] == 0 {
				known[level] = stretch(b.rows[level], columns, from, to)
			}
			sums[i] += known[level]
		}
		from = to
	}
	a.worth = math.Inf(-1)
	for i, sum := range sums {
		a.worth = plus(a.worth, sum+math.Log(likePrior[i/len(parting)]/float64(len(parting))))
	}
	return a
}

// glance is weigh with one likeness for all, to look through many speeds.
func (b beat) glance(s *spectrum, cycleHz, mains float64) account {
	a, columns, first := b.measured(s, cycleHz, mains)
	for from := first; from < len(columns); {
		to := b.end(from, len(columns), cycleHz)
		a.worth += stretch(b.rows[levelsAt(float64(from+to) / 2 * cycleHz)[glanceProfile]], columns, from, to)
		from = to
	}
	return a
}

const (
	profiles      = 10 // likenesses times partings
	glanceProfile = 6  // the fourth likeness, parting early
)

// levelsAt gives, for each likeness and parting, the level of likeness that
// is left at a frequency.
func levelsAt(hz float64) (levels [profiles]int) {
	for i, like := range likeness {
		for j, part := range parting {
			left := 1 - (1-like)*math.Exp(-hz*hz/(part*part))
			levels[i*len(parting)+j] = int((likeLevels-1)*(1-math.Log(left)/math.Log(likeLow)) + 0.5)
		}
	}
	return levels
}

// measured gives an account with the height of each line, still without
// worth; the columns of the heights; and the first line looked at.
func (b beat) measured(s *spectrum, cycleHz, mains float64) (account, []int, int) {
	most := min(int(b.top(cycleHz)/cycleHz), mostLines-1)
	a, columns := account{cycleHz: cycleHz, lines: make([]float64, most+1), means: make([]float64, most+1)},
		make([]int, most+1)
	first := max(1, int(math.Ceil(lineLow/cycleHz)))
	for k := first; k <= most; k++ {
		if isNear(float64(k)*cycleHz, mains, s.seconds) {
			columns[k] = blank
			continue
		}
		spacing := cycleHz
		if b.weight[k] > 0.5 {
			spacing *= float64(b.gap)
		}
		a.lines[k], a.means[k] = s.line(float64(k)*cycleHz, spacing)
		columns[k] = column(a.lines[k], a.means[k])
	}
	return a, columns, first
}

// top is the highest line looked at, Hz: of a slow engine not all of them.
func (b beat) top(cycleHz float64) float64 {
	return math.Min(lineHigh, math.Max(400, 24*float64(b.gap)*cycleHz))
}

// isNear tells whether a line may be one of the mains.
func isNear(hz, mains, seconds float64) bool {
	return mains > 0 && math.Abs(math.Remainder(hz, mains)) < 2/seconds+0.0045*hz
}

var freeRows = [][]int16(single.rows[0])

// free is what some of the lines are worth by themselves, as lines of any kind
// of tone; and the most they are worth up to any pitch.
func (a account) free(isAmong func(k int) bool) (total, most float64) {
	var few []int
	for k, y := range a.lines {
		if y != 0 && isAmong(k) {
			few = append(few, column(y, a.means[k]))
		}
		if len(few) == 3 || k == len(a.lines)-1 {
			total += stretch(freeRows, few, 0, len(few))
			most = math.Max(most, total)
			few = few[:0]
		}
	}
	return total, most
}

// stretch weighs some lines together, over all loudnesses.
func stretch(rows [][]int16, columns []int, from, to int) float64 {
	total := math.Log(0.05) // a stretch may be drowned
	for _, row := range rows {
		sum := math.Log(0.95 / float64(len(loudness)))
		for k := from; k < to; k++ {
			sum += float64(gained[row[k]][columns[k]])
		}
		total = plus(total, sum)
	}
	return total
}

// plus adds two numbers given as logarithms.
func plus(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) || a-b > 30 {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

var edges = []float64{30, 50, 80, 125, 200, 315, 500, 800, 1150, 1600}

// end is the line at which the stretch that begins with one ends.
func (b beat) end(from, n int, cycleHz float64) int {
	for _, hz := range edges {
		if to := int(math.Ceil(hz / cycleHz)); to > from {
			return min(n, to)
		}
	}
	return n
}

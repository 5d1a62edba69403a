package figures

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// A made table knows what is right, and writes itself in a dialect drawn at
// random. It shares no code with the reader: figures are written by fmt and
// strings alone.
type made struct {
	rng       *rand.Rand
	kind      string // band, bands, deg, runs
	angle     string
	speed     string
	base      string
	direction bool
	sep       string
	decimal   string
	thousands string
	quotes    string // none, needed, all
	end       string
	heads     string // full, bare, none, swapped
	order     []string
	cellUnits bool
	text      string
	lines     map[int][]string // right rows by line, as rowTexts writes them
	halves    bool             // a speed with a half
	torn      bool             // a separating comma stands inside a figure
}

func oneOf[T any](rng *rand.Rand, of ...T) T { return of[rng.IntN(len(of))] }

func newMade(rng *rand.Rand) *made {
	m := &made{rng: rng, kind: oneOf(rng, "band", "bands", "deg", "runs"), angle: oneOf(rng, "crank", "distributor"),
		speed: oneOf(rng, "engine", "distributor"), base: oneOf(rng, "included", "excluded"),
		sep: oneOf(rng, ",", ";", "\t", "|", "  "), decimal: oneOf(rng, ".", ","),
		quotes: oneOf(rng, "none", "needed", "all"),
		end:    oneOf(rng, "\n", "\r\n", "\r"), heads: oneOf(rng, "full", "full", "full", "bare", "none", "swapped"),
		cellUnits: rng.IntN(6) == 0, lines: map[int][]string{}}
	m.thousands = oneOf(rng, "", "", map[string]string{".": ",", ",": "."}[m.decimal], "'", " ")
	if m.sep == "  " && m.thousands == " " {
		m.thousands = ""
	}
	m.direction = m.kind == "deg" && rng.IntN(2) == 0
	m.order = map[string][]string{"band": {"speed", "min", "max"}, "bands": {"speed", "both"}, "deg": {"speed", "deg"},
		"runs": {"speed", "up", "down"}}[m.kind]
	if m.direction {
		m.order = append(m.order, "direction")
	}
	if rng.IntN(4) == 0 && m.sep != "  " {
		m.order = append(m.order, "note")
	}
	if rng.IntN(3) == 0 {
		rng.Shuffle(len(m.order), func(i, j int) { m.order[i], m.order[j] = m.order[j], m.order[i] })
	}
	m.write()
	return m
}

func (m *made) figure(x float64) string {
	text := fmt.Sprintf("%.4f", x)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	whole, part, has := strings.Cut(text, ".")
	if n := len(whole); n > 3 && m.thousands != "" {
		whole = whole[:n-3] + m.thousands + whole[n-3:]
	}
	if has {
		return whole + m.decimal + part
	}
	return whole
}

func (m *made) head(col string) string {
	full := m.heads != "bare"
	of := map[string]string{"min": "min ", "max": "max ", "up": "rising ", "down": "falling "}[col]
	switch col {
	case "direction", "note":
		return col
	case "speed":
		if full {
			return oneOf(m.rng, m.speed+" rpm", "rpm ("+m.speed+")", m.speed+" speed",
				m.speed+" r/min", "min⁻¹ "+m.speed)
		}
		return oneOf(m.rng, "rpm", "Speed", "revs")
	}
	if full {
		base := map[string]string{"included": " base included", "excluded": " without base"}[m.base]
		return of + oneOf(m.rng, "deg "+m.angle, m.angle+" degrees", "° "+m.angle, "advance ("+m.angle+" deg)") + base
	}
	return of + oneOf(m.rng, "deg", "°", "Degrees", "advance")
}

func (m *made) line(cells []string) string {
	for i, c := range cells {
		needs := strings.Contains(c, m.sep) || m.sep == "  " && strings.Contains(c, " ")
		m.torn = m.torn || m.sep == "," && m.quotes == "none" && strings.Contains(c, ",")
		if m.quotes == "all" || m.quotes == "needed" && needs {
			cells[i] = `"` + c + `"`
		}
	}
	return strings.Join(cells, m.sep)
}

// write makes the text, and the right rows beside it.
func (m *made) write() {
	var b strings.Builder
	line := 1
	put := func(text string) {
		b.WriteString(text + m.end)
		line++
	}
	if m.rng.IntN(5) == 0 {
		b.WriteString("\ufeff")
	}
	for range m.rng.IntN(3) {
		put(oneOf(m.rng, "# a comment, 12;5", "", "   "))
	}
	if m.heads != "none" {
		put(m.line(m.headCells()))
	}
	rpm := 300 + float64(m.rng.IntN(8))*50
	least := float64(m.rng.IntN(5))
	fine := oneOf(m.rng, 1, 0.5, 0.25, 0.125)
	for range 4 + m.rng.IntN(8) {
		band := fine * float64(1+m.rng.IntN(6))
		m.lines[line] = m.right(rpm, least, least+band)
		put(m.line(m.row(rpm, least, least+band)))
		if m.rng.IntN(6) == 0 {
			put(oneOf(m.rng, "", "# more", " "))
		}
		rpm += float64(50 * (1 + m.rng.IntN(12)))
		if m.rng.IntN(12) == 0 {
			rpm += 0.5
			m.halves = true
		}
		least += fine * float64(m.rng.IntN(8))
	}
	m.text = b.String()
	if m.rng.IntN(3) == 0 {
		m.text = strings.TrimSuffix(m.text, m.end)
	}
}

func (m *made) headCells() (cells []string) {
	for _, col := range m.order {
		if m.heads == "swapped" {
			for i, pair := range [][2]string{{"speed", "min"}, {"speed", "deg"}, {"speed", "both"}, {"speed", "up"}} {
				_ = i
				if strings.Contains(strings.Join(m.order, " "), pair[1]) {
					col = strings.NewReplacer(pair[0], pair[1], pair[1], pair[0]).Replace(col)
					break
				}
			}
		}
		cells = append(cells, m.head(col))
	}
	return cells
}

func (m *made) row(rpm, low, high float64) (cells []string) {
	unit := func(text, of string) string {
		if m.cellUnits && text != "" {
			return text + of
		}
		return text
	}
	for _, col := range m.order {
		text := ""
		switch col {
		case "speed":
			text = unit(m.figure(rpm), " rpm")
		case "min", "deg", "up":
			text = unit(m.figure(low), "°")
		case "max", "down":
			text = unit(m.figure(high), "°")
		case "both":
			text = m.figure(low) + oneOf(m.rng, "-", " to ", " – ", "..") + m.figure(high)
		case "direction":
			text = "rising"
		case "note":
			text = oneOf(m.rng, "", "steady", "cold", "swings a little", "5")
		}
		cells = append(cells, text)
	}
	return cells
}

// right is the row as it should be read.
func (m *made) right(rpm, low, high float64) []string {
	say := func(x float64) string {
		text := fmt.Sprintf("%.4f", x)
		return strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	switch m.kind {
	case "deg":
		text := say(rpm) + " " + say(low)
		if m.direction {
			text += " rising"
		}
		return []string{text}
	case "runs":
		return []string{say(rpm) + " " + say(low) + " rising", say(rpm) + " " + say(high) + " falling"}
	}
	return []string{say(rpm) + " " + say(low) + ".." + say(high)}
}

// answer is what a person who knows the table says to a question.
func (m *made) answer(a Ask, columns int) string {
	switch a.ID {
	case "what":
		if m.kind == "band" || m.kind == "bands" {
			return spec
		}
		return readings
	case "angleUnit":
		return m.angle
	case "speedUnit":
		return m.speed
	case "base":
		return m.base
	case "separator":
		return map[string]string{",": "comma", ";": "semicolon", "\t": "tab", "|": "pipe", "  ": "blanks"}[m.sep]
	case "decimal":
		return map[string]string{".": "point", ",": "comma"}[m.decimal]
	case "swapped":
		return "swap"
	case "leastMost":
		return "leave"
	case "commas":
		return m.commas(a)
	case "columns":
		var is []string
		for _, col := range m.order {
			is = append(is, map[string]string{"speed": isSpeed, "min": isMin, "max": isMax, "both": isDeg, "deg": isDeg,
				"up": isRising, "down": isFalling, "direction": isDirection, "note": isNote}[col])
		}
		for len(is) < columns {
			is = append(is, isSkip)
		}
		return strings.Join(is[:columns], ",")
	}
	return ""
}

// commas says what the commas are, where that is offered.
func (m *made) commas(a Ask) string {
	how := "thousands"
	switch {
	case !m.torn:
		return "columns"
	case m.decimal == "," && m.halves:
		how = "decimals"
	case m.decimal == ",":
		how = "decimal"
	}
	for _, c := range a.Choices {
		if c.Answer == how || c.Answer == fmt.Sprintf("%s/%d", how, len(m.order)) {
			return c.Answer
		}
	}
	return ""
}

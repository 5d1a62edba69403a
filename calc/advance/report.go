package advance

import (
	"slices"
	"strings"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/finding"
)

// report is the last stage: what was weighed, in words and figures.
func (j *judgement) report() JudgeOut {
	out := JudgeOut{Points: j.points, Counts: j.counts, Bands: []BandPoint{}, Findings: finding.List{},
		Explanations: []Explanation{}, Ask: []string{}, Suspicion: "none"}
	out.Bands = j.bookBands()
	if len(j.usable) == 0 && len(j.static) == 0 {
		return j.nothingToCompare(out)
	}
	j.reportBase(&out)
	out.Shape = j.shape()
	if j.lag != nil {
		out.HysteresisDistDeg = &j.lag.distDeg
	}
	out.Suspicion = j.suspicion()
	out.Accounts = j.accounts()
	out.NextReadings = j.nextReadings()
	w := wording{j, &out}
	w.findings()
	out.Verdict = j.verdict()
	out.Summary = w.summary()
	out.Working, out.Sources = w.working()
	return out
}

func (j *judgement) bookBands() []BandPoint {
	if len(j.band.total) == 0 {
		return []BandPoint{}
	}
	var rpm []float64
	for _, k := range j.band.total {
		rpm = append(rpm, k.rpm)
	}
	return j.band.points(j.spec, rpm)
}

func (j *judgement) nothingToCompare(out JudgeOut) JudgeOut {
	w := wording{j, &out}
	w.statedPipe()
	out.Shape, out.Verdict, out.Accounts = "in-band", "unknown", []Account{{ID: "other", Share: 1, Parts: []string{}}}
	out.Summary = "Nothing here can be compared with the book: every reading was taken with the vacuum pipe connected. Take them again with the pipe off and its end plugged."
	out.Working, out.Sources = w.working()
	return out
}

func (j *judgement) reportBase(out *JudgeOut) {
	if !j.base.known() {
		return
	}
	b := j.base
	out.BaseCrankDeg, out.BaseLowCrankDeg, out.BaseHighCrankDeg = &b.value, &b.low, &b.high
	if j.band.base != nil {
		offset := b.value - *j.band.base
		out.BaseOffsetCrankDeg = &offset
	}
	out.Basis = basisWords[b.how]
}

var basisWords = map[string]string{
	"static":          "the static figure proved with the test lamp, engine stopped, and the readings together",
	"bench and car":   "the car's readings less the bench's advance at the same speeds",
	"constant offset": "one shift that brings every reading on the car into the book's band",
	"in band":         "the car's readings less the book's advance",
}

// shape is the shape of the curve that most belief is on.
func (j *judgement) shape() string {
	shares := map[string]float64{}
	for id, share := range j.shares {
		shares[shapeOf(id)] += share
	}
	best := "mixed"
	for shape, share := range shares {
		if share > shares[best] || share == shares[best] && shape < best {
			best = shape
		}
	}
	if best != "in-band" && shares[best] < 0.5 && j.faulty() >= 0.5 {
		return "mixed"
	}
	return best
}

// baseSuspected is the share from which a base counted wrongly, or a pipe left
// on, is suspected: to a car both are much like a moved base, so the question
// stands beside the verdict (chosen).
const baseSuspected = 0.15

// suspicion is the mistake of entry that half of all belief or more is on; of
// those that look like a moved base less is enough.
func (j *judgement) suspicion() string {
	best, most := "none", 0.5
	shares := map[string]float64{}
	for id, share := range j.shares {
		for _, e := range elements(id) {
			if s := known[e].suspicion; s != "" {
				shares[s] += share
			}
		}
	}
	for s, share := range shares {
		if share >= most {
			best, most = s, share
		}
	}
	for _, s := range []string{"base-missing", "base-twice", "vacuum-connected"} {
		if best == "none" && shares[s] >= baseSuspected {
			best = s
		}
	}
	return best
}

// doubt is the share of accounts under which the figures are not what they
// say: typed wrongly, the pipe on, or two curves in one.
func (j *judgement) doubt() float64 {
	return j.sum(j.shares, func(id string) bool { return isEntry(id) || isPipe(id) || isBetween(id) })
}

// faulty is the share of accounts under which the car is not as it should be.
func (j *judgement) faulty() float64 {
	sum := j.sum(j.shares, func(id string) bool { return isInside(id) || isBase(id) })
	if j.sparse { // which part is not told, but that something is off is
		sum += j.shares["other"] - j.result.Shares["other"]
	}
	return sum
}

// verdict is the whole in one word: unknown while a mistake of entry is the
// likelier account or nothing leads, fail for a curve or base out of the book,
// watch for what should be looked at again.
func (j *judgement) verdict() string {
	sound := j.shares["sound"]
	switch {
	case j.doubt() >= 0.5:
		return "unknown"
	case len(j.slipped) > 0 && j.sum(j.shares, isInside) < likelyShare: // a lamp that disagrees: nothing is turned yet
		return "unknown"
	case j.faulty() >= likelyShare:
		return "fail"
	case j.lag != nil && j.lag.distDeg > hysteresisFail:
		return "fail"
	case j.sum(j.shares, isBench) >= 0.5:
		return "watch"
	case len(j.outliers) > 0, j.strays() > 0, j.lag != nil && j.lag.distDeg > hysteresisWatch:
		return "watch"
	case sound >= likelyShare && !j.nothingTold():
		return "pass"
	case sound >= 0.5 || j.faulty() >= 0.5:
		return "watch"
	}
	return "unknown"
}

// nothingTold: every reading stands where the book gives no figure, or none
// stands high enough on the curve to say anything of it.
func (j *judgement) nothingTold() bool {
	for _, r := range j.usable {
		if !j.band.silent(r.rpm) {
			return false
		}
	}
	return len(j.usable) > 0 && !j.base.known()
}

// named gives the elements that hold three quarters of belief or more, sound
// left out, those inside first.
func (j *judgement) named() []string {
	var out []string
	for e := range known {
		k := known[e].kind
		if k == kindBase && len(j.slipped) > 0 { // the lamp disagrees: which of the two is the base is not known
			continue
		}
		if k != kindSound && k != kindOther && j.element(e) >= likelyShare {
			out = append(out, e)
		}
	}
	rank := map[string]int{kindEntry: 0, kindPipe: 1, kindBetween: 2, kindInside: 3, kindBase: 4, kindBench: 5}
	slices.SortFunc(out, func(a, b string) int {
		if d := rank[known[a].kind] - rank[known[b].kind]; d != 0 {
			return d
		}
		return strings.Compare(a, b)
	})
	return out
}

// leastAccount is the share below which an account is counted with other.
const leastAccount = 0.01

// accounts lists the stories, the largest first, other at the end.
func (j *judgement) accounts() []Account {
	list := []Account{}
	other := 0.0
	for id, share := range j.shares {
		if id == "other" || share < leastAccount {
			other += share
			continue
		}
		list = append(list, j.account(id, share))
	}
	slices.SortFunc(list, func(a, b Account) int {
		switch {
		case a.Share > b.Share:
			return -1
		case a.Share < b.Share:
			return 1
		}
		return strings.Compare(a.ID, b.ID)
	})
	return append(list, j.account("other", other))
}

func (j *judgement) account(id string, share float64) Account {
	a := Account{ID: id, Share: share, Parts: []string{}}
	var ways, shorts []string
	for _, e := range elements(id) {
		k := known[e]
		if k.part != "" {
			a.Parts = append(a.Parts, k.part)
		}
		if k.direction != "" && !slices.Contains(ways, k.direction) {
			ways = append(ways, k.direction)
		}
		shorts = append(shorts, k.short)
	}
	a.Direction, a.Title = strings.Join(ways, ", "), upperFirst(strings.Join(shorts, ", and "))
	a.Text = j.accountText(id)
	return a
}

// ofAccount gives the units drawn under one account.
func (j *judgement) ofAccount(id string) []infer.Drawn {
	var out []infer.Drawn
	for _, d := range j.units {
		if d.ID == id {
			out = append(out, d)
		}
	}
	return out
}

package advance

import (
	"fmt"
	"slices"
	"strings"

	"pointsmith/calc/advance/infer"
	"pointsmith/calc/finding"
)

// statedPipe is about sets that were read with the vacuum pipe on.
func (w wording) statedPipe() {
	for i, set := range w.sets {
		if set.Vacuum == "connected" && len(set.Points) > 0 {
			w.add(finding.Finding{Code: "vacuum-connected-stated",
				Title: fmt.Sprintf("Set %d was read with the vacuum pipe connected", i+1),
				Text:  "The book's centrifugal table holds with the vacuum pipe off and its end plugged. These readings hold the capsule's advance as well and are not judged. Take them again with the pipe off and plugged, and put the pipe on the list to put back.",
				Part:  partPipe, Direction: "take off and plug", Sureness: "sure",
				DisprovedBy: "the pipe was off after all: then mark the set so"})
		}
		if set.Place == "car" && set.Vacuum == "" && len(set.Points) > 0 {
			w.ask(fmt.Sprintf("Set %d: was the vacuum pipe off and its end plugged?", i+1))
		}
	}
}

// entryText is how one mistake of entry is said and asked about.
type entryText struct{ title, text, ask, disproof string }

var entryTexts = map[string]entryText{
	"angle-doubled": {"The degrees look like double what their unit should give",
		"Halved, they agree with the book. Crank degrees were probably entered as distributor degrees.",
		"Were these degrees read on the crank (pulley or flywheel) rather than on the distributor?",
		"the scale they were read from turns with the distributor shaft"},
	"angle-halved": {"The degrees look like half of what their unit should give",
		"Doubled, they agree with the book. Distributor degrees were probably entered as crank degrees.",
		"Were these degrees read on the distributor (bench ring) rather than on the crank?",
		"the scale they were read from turns with the crank"},
	"angle-tenfold": {"The degrees look typed with the point in the wrong place",
		"Moved by one place, they agree with the book.", "Is the decimal point of the degrees where it should be?",
		"the figures stand so on the sheet they were read to"},
	"angle-backwards": {"The degrees look read the wrong way round the ring",
		"They go down as the speed goes up. Weights only ever move the spark earlier: the ring was read against the running direction, the bench ran the other way, or a minus sign was entered.",
		"Which way did the bench turn, and were these degrees read in its running direction?",
		"turned the way it runs on its engine, the flash does move later as the speed rises"},
	"speed-doubled": {"The speeds look like double what their unit should give",
		"At half the speed, the readings agree with the book. Engine speeds were probably entered as distributor speeds.",
		"Was the tachometer showing engine rpm rather than distributor rpm?",
		"the tachometer shows the speed of the shaft stated"},
	"speed-halved": {"The speeds look like half of what their unit should give",
		"At double the speed, the readings agree with the book. Distributor speeds were probably entered as engine speeds.",
		"Was the tachometer showing distributor rpm rather than engine rpm?",
		"the tachometer shows the speed of the shaft stated"},
	"speed-tenfold": {"The speeds look typed with the point in the wrong place",
		"Moved by one place, they agree with the book.", "Is the decimal point of the speeds where it should be?",
		"the figures stand so on the sheet they were read to"},
	"speed-in-thousands": {"The speeds look typed in thousands",
		"Times a thousand, they agree with the book.", "Are these speeds in thousands?",
		"the figures are single turns a minute"},
	"tachometer": {"The tachometer looks out",
		"With every speed off by one share, the readings agree with the book. Hold the tachometer against another one, or against mains-lit marks, before any spring is touched.",
		"Has the tachometer been compared with another?", "two tachometers agree: then it is the springs"},
	"columns-swapped": {"Falling lies below rising: the columns look swapped",
		"Friction holds the weights out while the speed falls, so falling readings lie at or a little above rising ones. Here they lie below.",
		"Falling lies below rising. Were the two columns swapped?",
		"both directions read again, the speed settled 3 to 5 seconds at each point"},
	"base-twice": {"The base looks counted twice",
		"Every reading is {high} by just the book's base. Either the readings hold the base although they are marked as without it, or a dial-back strobe already had it taken off, or the body really stands that much {early}.",
		"Do these figures hold the base timing already?",
		"static timing proved with the test lamp, engine stopped: if it is that much {early}, the body was moved"},
	"base-missing": {"The base looks left out",
		"Every reading is {high} by just the book's base. Either the readings are advance alone although they are marked as with base, or the book's table already holds the base and it was added again, or the body really stands that much {early}.",
		"Does the book's table already hold the base (total before TDC)? Or are the readings advance alone?",
		"static timing proved with the test lamp, engine stopped: if it is that much {early}, the body was moved"},
	"vacuum-connected": {"The vacuum pipe looks left on",
		"The readings are off by much the same large amount to the very top, as a vacuum capsule does on a free-revving engine. Springs do not do that. Take the pipe off, plug it, and read again.",
		"Was the vacuum pipe off and its end plugged for these readings?",
		"the same readings with the pipe off and plugged"},
}

// said puts in which way a base that is counted wrongly moves the readings.
func (t entryText) said(base *float64, twice bool) entryText {
	up := twice
	if base != nil && *base < 0 {
		up = !up
	}
	side := strings.NewReplacer("{high}", "low", "{early}", "late")
	if up {
		side = strings.NewReplacer("{high}", "high", "{early}", "early")
	}
	t.text, t.disproof = side.Replace(t.text), side.Replace(t.disproof)
	return t
}

func (w wording) textOf(suspicion string) entryText {
	return entryTexts[suspicion].said(w.band.base, suspicion == "base-twice")
}

func (w wording) entryWords(f *finding.Finding, id string) {
	t := w.textOf(known[id].suspicion)
	f.Title, f.Text, f.DisprovedBy = t.title, t.text, t.disproof
	if strings.HasPrefix(id, "both") {
		f.Text += " The speeds look off the same way: the whole set seems to belong to the other shaft."
	}
	f.Sources = []string{"both shafts and both units are mixed up often enough to ask first: common practice"}
}

func (w wording) pipeWords(f *finding.Finding, id string) {
	w.entryWords(f, id)
	v := infer.RangeOf(w.withElement(id), func(d *infer.Drawn) float64 { return d.Capsule * halfSpeed / w.band.ratio })
	f.Working = append(f.Working,
		fmt.Sprintf("Amount: about %.1f distributor degrees of capsule travel, %.1f crank degrees.", v.Middle,
			v.Middle*w.band.ratio))
}

// doubtful: some mistake of entry is at least half as likely as the rest.
func (w wording) doubtful() bool {
	return w.sum(w.shares, func(id string) bool { return isEntry(id) || isPipe(id) }) >= 0.25
}

// askAboutEntry asks about the mistakes that are believed to a tenth or more.
func (w wording) askAboutEntry() {
	shares := map[string]float64{}
	for id, share := range w.shares {
		for _, e := range elements(id) {
			if s := known[e].suspicion; s != "" {
				shares[s] += share
			}
		}
	}
	var asked []string
	for s, share := range shares {
		if share >= 0.1 { // (chosen)
			asked = append(asked, s)
		}
	}
	slices.Sort(asked)
	for _, s := range asked {
		w.ask(w.textOf(s).ask)
	}
	if s := w.out.Suspicion; s != "none" && !w.out.Findings.Has("suspect-"+s) {
		t := w.textOf(s)
		w.add(finding.Finding{Code: "suspect-" + s, Title: t.title, Text: t.text, Part: partFigures,
			Direction: "check before touching anything",
			Sureness:  sureness(shares[s]), DisprovedBy: t.disproof, Working: w.worstLines()})
	}
}

package shelf

import "pointsmith/calc/advance"

// Ranked is a distributor that may serve.
type Ranked struct {
	Rank         int                 `json:"rank" help:"1 comes first"`
	ID           string              `json:"id" help:"which one"`
	InBookShare  float64             `json:"inBookShare" help:"how likely it lies in the book over the book's range, after the change where there is one, as a share of 1"`
	AsItIsShare  float64             `json:"asItIsShare" help:"the same with nothing changed"`
	Change       *advance.MendChange `json:"change" help:"the smallest change that is worth its work, as advance.whatif takes it; null where nothing is changed"`
	Effort       float64             `json:"effort" help:"the work of the change: 1 is bending one post a little, 0 none"`
	Steps        []string            `json:"steps" help:"what to do, in order"`
	FindOutFirst []string            `json:"findOutFirst" help:"what is not known and must be found out before any of it, the first first"`
	Unknown      []string            `json:"unknown" enum:"rotation|cylinders|drive|capsule|curve|top|start|pipe|readings|base" help:"the same, each in one word"`
	Standing     string              `json:"standing" enum:"as-it-is|changed|doubtful|unknown" help:"as-it-is: more likely than not in the book with nothing changed; changed: likely (¾) after the change; doubtful: neither; unknown: too little was read to say"`
	Model        *advance.Model      `json:"model" help:"the likeliest governor in it as it is, as the quick fit has it; null where too little was read"`
	Readings     int                 `json:"readings" help:"how many readings it was judged by; a model counts as the readings it stands for"`
	Why          string              `json:"why" help:"why it is ranked where it is"`
}

// Refused is a distributor that cannot serve.
type Refused struct {
	ID      string `json:"id" help:"which one"`
	Because string `json:"because" help:"what rules it out"`
}

// NearestOut is the shelf in order.
type NearestOut struct {
	Ranked  []Ranked  `json:"ranked" help:"what may serve, the nearest first"`
	Refused []Refused `json:"refused" help:"what cannot serve, by id"`
	LeftOff int       `json:"leftOff" help:"how many more are ranked than are answered"`
	Summary string    `json:"summary" help:"the whole in one sentence"`
	Working []string  `json:"working" help:"how it was found"`
	Sources []string  `json:"sources" help:"where the rules come from"`
}

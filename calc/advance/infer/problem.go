package infer

import (
	"math"
	"slices"
)

// Row is one row of the book: the advance allowed at a speed, distributor
// degrees at distributor rpm. Least is minus infinity and Most infinity where
// the book names only the other.
type Row struct{ DistRPM, Least, Most float64 }

// Book is what the book says of a sound unit.
type Book struct {
	Rows           []Row   // by rising speed; they hold the base where BaseUnknown
	NoAdvanceBelow float64 // distributor rpm; 0 when it does not say
	Limit          float64 // number on the limit plate, distributor degrees; 0 when unknown
	Listed         int     // -1 read while falling, 1 while rising, 0 either
	Base           float64 // base of the book, distributor degrees
	BaseInRows     bool    // the rows hold the base
	BaseUnknown    bool    // the rows hold a base that is not known
	Tolerance      float64 // allowed either side of the base, distributor degrees
	CapsuleMost    float64 // most the vacuum capsule gives, distributor degrees; 0 when unknown
}

// Reading is one figure as measured, distributor degrees at distributor rpm.
type Reading struct {
	DistRPM, Deg float64
	Falling      bool
	WithBase     bool    // the figure holds the base
	Bench        bool    // read on the bench
	Error        float64 // stated: 19 of 20 lie within it, distributor degrees
	CrankDeg     bool    // the figure was typed as crank degrees
	EngineRPM    bool    // the speed was typed as engine rpm
}

// Static is a base proved with the test lamp, distributor degrees.
type Static struct{ Deg, Error float64 }

// sd is one deviation of it beside a strobe's reading: half its error, and the
// slack of the drive.
func (s Static) sd() float64 { return math.Sqrt(s.Error*s.Error/4 + driveSlack*driveSlack) }

// Pipe tells what was said of the vacuum pipe on the car.
type Pipe int

// What was said of the pipe.
const (
	PipeUnsaid Pipe = iota
	PipeOff
)

// Problem is one case.
type Problem struct {
	Book     Book
	Readings []Reading
	Statics  []Static
	Pipe     Pipe
	Seed     uint64 // of the sampler: another seed, nearly the same shares
}

// What is allowed for beside the reading error.
const (
	// misfit is how far a sound unit's curve may lie beside every curve of this
	// room's governor, one deviation in distributor degrees: bent posts, springs
	// that rub, weights on pivots (chosen on a simulator with other physics).
	misfit = 0.15
	// wall is how sharply a row of the book bounds the sound unit, one deviation,
	// distributor degrees (chosen: printed rows are rounded to a half or a whole).
	wall = 0.1
	// spreadSpread: the stated reading error is believed within a factor of 1.4
	// either way, two in three (chosen).
	spreadSpread = 0.35
	// slipShare of the readings are slips of eye, ear or key (chosen: one in thirty).
	slipShare = 1.0 / 30
	// slipWidth is the range over which a slip may lie, distributor degrees (chosen).
	slipWidth = 20.0
	// leastError: no dial is read finer than a twentieth of a degree (common practice).
	leastError = 0.05
	// setError is how well a sound base is set, one deviation, crank degrees as
	// distributor degrees: half a crank degree (common practice: set to a degree).
	setError = 0.25
	// zeroError is how well a bench ring is zeroed, one deviation, distributor
	// degrees (common practice: to a quarter of a degree).
	zeroError = 0.25
	// driveSlack parts lamp and strobe, one deviation, distributor degrees: slack
	// in chain, gears and drive (common practice: a degree of crank at most).
	driveSlack = 0.25
)

// heard is one reading made ready.
type heard struct {
	u, deg   float64
	sd       float64
	errorAt  int // of sd among the prepared errors
	falling  bool
	withBase bool
	bench    bool
	car      bool
	crankDeg bool
	engine   bool
}

// prepared is a problem made ready for many evaluations.
type prepared struct {
	book     Book
	rows     []preparedRow
	readings []heard
	statics  []Static
	bench    bool // some reading was taken on the bench
	car      bool // some reading was taken on the car
	withBase bool // some reading holds the base, or the lamp's figure is there
	rising   bool
	falling  bool
	active   []int // places of a point that matter without any change
	lastRPM  float64
	pipe     Pipe
	seed     uint64
	errors   []float64 // the different deviations that readings have
}

type preparedRow struct{ u, least, most float64 }

func prepare(p Problem) *prepared {
	q := &prepared{book: p.Book, statics: p.Statics, pipe: p.Pipe, seed: p.Seed}
	for _, r := range p.Book.Rows {
		q.rows = append(q.rows, preparedRow{squared(r.DistRPM), r.Least, r.Most})
		q.lastRPM = max(q.lastRPM, r.DistRPM)
	}
	for _, r := range p.Readings {
		sd := max(r.Error, leastError) / 2
		k := slices.Index(q.errors, sd)
		if k < 0 {
			k, q.errors = len(q.errors), append(q.errors, sd)
		}
		q.readings = append(q.readings, heard{u: squared(r.DistRPM), deg: r.Deg, sd: sd, errorAt: k, falling: r.Falling,
			withBase: r.WithBase, bench: r.Bench, car: !r.Bench, crankDeg: r.CrankDeg, engine: r.EngineRPM})
		q.bench, q.car, q.withBase = q.bench || r.Bench, q.car || !r.Bench, q.withBase || r.WithBase
		q.rising, q.falling = q.rising || !r.Falling, q.falling || r.Falling
	}
	q.withBase = q.withBase || len(p.Statics) > 0
	q.active = []int{startAt, kneeAt, shareAt, limitAt, travelAt, growthAt, frictionAt}
	if len(p.Readings) > 0 {
		q.active = append(q.active, spreadAt)
	}
	if q.withBase {
		q.active = append(q.active, offsetAt)
	}
	if q.book.baseFree() {
		q.active = append(q.active, bookBaseAt)
	}
	if q.bench {
		q.active = append(q.active, zeroAt)
	}
	return q
}

// unknownBase is what is believed of a base the book does not name: 8 crank
// degrees, 19 in 20 within 10 of it (common practice: static 0 to 15).
const (
	unknownBaseMean   = 4
	unknownBaseSpread = 2.5
)

// baseFree: the rows hold a base, and which is not known to a degree. Then a
// sound unit may have any of those allowed, and its rows go with it.
func (b *Book) baseFree() bool { return b.BaseInRows && (b.BaseUnknown || b.Tolerance > 0) }

// freeBase is what is believed of such a base: mean and one deviation.
func (b *Book) freeBase() (mean, spread float64) {
	if b.BaseUnknown {
		return unknownBaseMean, unknownBaseSpread
	}
	return b.Base, b.Tolerance * levelSpread
}

// levelSpread is one deviation of a level law over ±1: 1/√3.
const levelSpread = 0.57735

// bookBase is the base of the book at this point.
func (q *prepared) bookBase(x *point) float64 {
	if q.book.baseFree() {
		return x[bookBaseAt]
	}
	return q.book.Base
}

// soundOffset is one deviation of a sound base from the book's.
func (q *prepared) soundOffset() float64 {
	if q.book.baseFree() {
		return setError
	}
	return math.Hypot(setError, q.book.Tolerance*levelSpread)
}

// bookLog is how well a sound unit agrees with the book: level inside every
// row, falling off beyond it.
func (q *prepared) bookLog(x *point, s *Governor) float64 {
	sum, raised := 0.0, 0.0
	if q.book.baseFree() {
		mean, spread := q.book.freeBase()
		z := (x[bookBaseAt] - mean) / spread
		sum, raised = -z*z/2, x[bookBaseAt]
	} else if q.book.BaseInRows {
		raised = q.book.Base
	}
	for _, r := range q.rows {
		a := 0.0
		if q.book.Listed == 0 {
			a = s.at(r.u)
		} else {
			a = s.reads(r.u, q.book.Listed < 0)
		}
		sum -= outsideSquared(a+raised, r.least, r.most) / (2 * wall * wall)
	}
	if n := q.book.NoAdvanceBelow; n > 0 {
		sum -= outsideSquared(s.at(squared(n)), -1, 0.3) / (2 * wall * wall) // 0.3: less is read as none (chosen)
	}
	if q.book.Limit > 0 {
		z := (s.Limit - q.book.Limit) / limitSpread
		sum -= z * z / 2
	} else if q.lastRPM > 0 && s.at(squared(1.03*q.lastRPM)) < s.Limit {
		sum += lnTableEnds
	}
	return sum + rateLog(s)
}

// rateLog is what is believed of the heavy spring's rate over the light one's.
func rateLog(s *Governor) float64 {
	z := (ln(s.K2/s.K1) - lnRateMean) / rateSpread
	return -z * z / 2
}

var lnRateMean = ln(rateMean)

// limitSpread: a plate's number is good to this, one deviation, distributor
// degrees (common practice: half a degree).
const limitSpread = 0.35

// lnTableEnds: of tables without a number for the plate two in five end before
// the stop (chosen), against three that end with the maximum.
var lnTableEnds = ln(2.0 / 3)

func outsideSquared(x, least, most float64) float64 {
	switch {
	case x < least:
		return (least - x) * (least - x)
	case x > most:
		return (x - most) * (x - most)
	}
	return 0
}

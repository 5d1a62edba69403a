package plain

import (
	"context"
	"fmt"
	"log/slog"
	"sync"
	"time"
)

// How much of what came from elsewhere stands in a line: a path or a name is
// known by its first 200 bytes, an error names a file and a reason, a stack is
// ours and is read by whoever mends it.
const (
	wordBytes  = 200
	errorBytes = 1000
	stackBytes = 8000
)

// How often one and the same is said: somebody who is refused ten times a
// minute is seen; a thousand times tell no more. At most messages are counted
// apart; they are ours, so there are some dozens.
const (
	linesPerSpell = 10
	spell         = time.Minute
	messages      = 200
)

// Log gives a logger whose lines are bounded, each and in number: values are
// shortened and made plain, and of one warning or error at most ten lines a
// minute are written, then one that says how often it was left out. Lines below
// a warning are not counted: they tell of work that was let in.
func Log(to slog.Handler) *slog.Logger {
	return slog.New(&handler{to, &counts{of: map[string]*count{}, now: time.Now}})
}

type handler struct {
	slog.Handler
	counts *counts
}

// Handle writes the line, or counts it.
func (h *handler) Handle(ctx context.Context, r slog.Record) error {
	mayWrite, leftOut := true, 0
	if r.Level >= slog.LevelWarn {
		mayWrite, leftOut = h.counts.take(r.Message, func(n int) { h.sum(r.Level, r.Message, n) })
	}
	if leftOut > 0 {
		h.sum(r.Level, r.Message, leftOut)
	}
	if !mayWrite {
		return nil
	}
	short := slog.NewRecord(r.Time, r.Level, Text(r.Message, wordBytes), r.PC)
	r.Attrs(func(a slog.Attr) bool {
		short.AddAttrs(bounded(a))
		return true
	})
	return h.Handler.Handle(ctx, short)
}

// sum says how often a line was left out.
func (h *handler) sum(level slog.Level, message string, n int) {
	r := slog.NewRecord(h.counts.now(), level, Text(message, wordBytes), 0)
	r.AddAttrs(slog.Int("more like it, left out", n))
	_ = h.Handler.Handle(context.Background(), r) // there is nowhere else to say that the log fails
}

// WithAttrs keeps the bounds.
func (h *handler) WithAttrs(all []slog.Attr) slog.Handler {
	short := make([]slog.Attr, len(all))
	for n, a := range all {
		short[n] = bounded(a)
	}
	return &handler{h.Handler.WithAttrs(short), h.counts}
}

// WithGroup keeps the bounds.
func (h *handler) WithGroup(name string) slog.Handler {
	return &handler{h.Handler.WithGroup(name), h.counts}
}

// bounded makes a value plain and short. Numbers, times and the like are so already.
func bounded(a slog.Attr) slog.Attr {
	v := a.Value.Resolve()
	switch most := wordBytes; v.Kind() {
	case slog.KindString:
		if a.Key == "stack" {
			most = stackBytes
		}
		a.Value = slog.StringValue(Text(v.String(), most))
	case slog.KindAny, slog.KindGroup:
		a.Value = slog.StringValue(Text(fmt.Sprint(v.Any()), errorBytes))
	}
	return a
}

// counts says what may still be written.
type counts struct {
	mu  sync.Mutex
	of  map[string]*count
	now func() time.Time
}

type count struct {
	since            time.Time
	written, leftOut int
}

// take counts a line, and says how many like it were left out in a spell that
// is over. later is called when a spell ends in which lines were left out and
// nothing like them came since.
func (c *counts) take(message string, later func(n int)) (mayWrite bool, leftOut int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	one := c.of[message]
	if one == nil {
		if len(c.of) >= messages {
			message = ""
		}
		if one = c.of[message]; one == nil {
			one = &count{since: c.now()}
			c.of[message] = one
		}
	}
	if c.now().Sub(one.since) >= spell {
		leftOut = one.leftOut
		*one = count{since: c.now()}
	}
	if one.written < linesPerSpell {
		one.written++
		return true, leftOut
	}
	if one.leftOut++; one.leftOut == 1 {
		time.AfterFunc(spell, func() {
			if n := c.missed(one); n > 0 {
				later(n)
			}
		})
	}
	return false, leftOut
}

// missed takes what was left out in a spell that is over.
func (c *counts) missed(one *count) (n int) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.now().Sub(one.since) < spell {
		return 0
	}
	n, one.leftOut = one.leftOut, 0
	return n
}

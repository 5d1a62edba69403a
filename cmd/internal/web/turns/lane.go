package turns

import (
	"context"
	"errors"
	"slices"
	"sync"
	"time"
)

var (
	// ErrFull: as many wait as may; nobody else is let into the queue.
	ErrFull = errors.New("too many wait already")
	// ErrLong: the turn did not come while there was patience.
	ErrLong = errors.New("the turn did not come in time")
)

// A Lane has places for a few and a queue for the rest. Make it with New. Its
// methods may be called from any goroutine.
type Lane struct {
	most int

	mu    sync.Mutex
	free  int
	queue []*ticket      // in the order of turns
	round int            // of the last that was let in from the queue
	last  map[string]int // the latest round of everybody in the queue
}

type ticket struct {
	round int
	turn  chan struct{}
}

// New makes a lane with places at a time and at most so many who wait.
func New(places, waiting int) *Lane {
	return &Lane{free: places, most: waiting, last: map[string]int{}}
}

// Enter waits for a turn, at most as long as patience, and gives back how to
// leave, which may be called more than once. Turns go round: the first request
// of everybody who waits, then the second of everybody, each in the order in
// which they came. It returns ErrFull, ErrLong, or why ctx ended.
func (l *Lane) Enter(ctx context.Context, who string, patience time.Duration) (leave func(), err error) {
	t, err := l.ask(who)
	if err != nil {
		return nil, err
	}
	if t == nil {
		return sync.OnceFunc(l.leave), nil
	}
	timer := time.NewTimer(patience)
	defer timer.Stop()
	select {
	case <-t.turn:
		return sync.OnceFunc(l.leave), nil
	case <-timer.C:
		err = ErrLong
	case <-ctx.Done():
		err = ctx.Err()
	}
	l.giveUp(t)
	return nil, err
}

// ask takes a free place at once (nil), or a ticket of the queue.
func (l *Lane) ask(who string) (*ticket, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.free > 0 {
		l.free--
		return nil, nil
	}
	if len(l.queue) >= l.most {
		return nil, ErrFull
	}
	t := &ticket{max(l.round, l.last[who]+1), make(chan struct{})}
	l.last[who] = t.round
	at, _ := slices.BinarySearchFunc(l.queue, t.round+1, func(q *ticket, round int) int { return q.round - round })
	l.queue = slices.Insert(l.queue, at, t)
	return t, nil
}

// leave hands the place on.
func (l *Lane) leave() {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.queue) == 0 {
		l.free++
		return
	}
	next := l.queue[0]
	l.queue, l.round = l.queue[1:], next.round
	close(next.turn)
	l.forget()
}

// giveUp leaves the queue; a turn that came at that very moment is handed on.
func (l *Lane) giveUp(t *ticket) {
	l.mu.Lock()
	at := slices.Index(l.queue, t)
	if at >= 0 {
		l.queue = slices.Delete(l.queue, at, at+1)
		l.forget()
	}
	l.mu.Unlock()
	if at < 0 {
		l.leave()
	}
}

// forget begins to count anew when nobody waits.
func (l *Lane) forget() {
	if len(l.queue) == 0 {
		clear(l.last)
		l.round = 0
	}
}

package turns

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"
	"testing/synctest"
	"time"
)

// queue lets everybody named ask in that order and gives the order in which they were let in.
func queue(t *testing.T, l *Lane, names ...string) (order []string) {
	t.Helper()
	leave, err := l.Enter(t.Context(), "first", 0)
	if err != nil {
		t.Fatal(err)
	}
	let := make(chan string, len(names))
	for n, name := range names {
		go func() {
			leave, err := l.Enter(t.Context(), name, time.Minute)
			if err != nil {
				t.Error(err)
				return
			}
			let <- fmt.Sprint(name, n)
			time.Sleep(time.Second)
			leave()
		}()
		synctest.Wait()
	}
	leave()
	for range names {
		order = append(order, <-let)
	}
	time.Sleep(time.Minute)
	return order
}

func TestTurnsAreInOrderAndGoRound(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := New(1, 100)
		if got := queue(t, l, "a", "a", "a"); !slices.Equal(got, []string{"a0", "a1", "a2"}) {
			t.Errorf("one alone: %v", got)
		}
		want := []string{"a0", "b4", "c5", "a1", "b6", "a2", "a3"}
		if got := queue(t, l, "a", "a", "a", "a", "b", "c", "b"); !slices.Equal(got, want) {
			t.Errorf("%v, want %v", got, want)
		}
		l.mu.Lock()
		defer l.mu.Unlock()
		if l.free != 1 || len(l.last) != 0 || l.round != 0 {
			t.Errorf("afterwards %+v", l)
		}
	})
}

func TestWaitingEnds(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		l := New(1, 1)
		leave, _ := l.Enter(t.Context(), "a", 0)
		begun := time.Now()
		if _, err := l.Enter(t.Context(), "b", 3*time.Second); !errors.Is(err, ErrLong) ||
			time.Since(begun) != 3*time.Second {
			t.Errorf("%v after %v", err, time.Since(begun))
		}
		gone, stop := context.WithCancel(t.Context())
		ended := make(chan error)
		go func() {
			_, err := l.Enter(gone, "b", time.Hour)
			ended <- err
		}()
		synctest.Wait()
		if _, err := l.Enter(t.Context(), "c", time.Hour); !errors.Is(err, ErrFull) {
			t.Errorf("a second in a queue of one: %v", err)
		}
		stop()
		if err := <-ended; !errors.Is(err, context.Canceled) {
			t.Errorf("gone: %v", err)
		}
		leave()
		leave() // twice is once
		if l.free != 1 || len(l.queue) != 0 {
			t.Errorf("afterwards %+v", l)
		}
	})
}

package main

import (
	"context"
	"log/slog"
	"time"

	"pointsmith/store"
)

// lookHourly is how often serve looks whether a day has begun.
const lookHourly = time.Hour

// startDaily makes the day's copy and tidies the garage, at once and whenever
// a new day has begun, until stop is called, which waits for what runs.
func startDaily(ctx context.Context, garage *store.Store, log *slog.Logger) (stop func()) {
	ctx, cancel := context.WithCancel(ctx)
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		for ctx.Err() == nil {
			daily(garage, time.Now(), log)
			select {
			case <-ctx.Done():
			case <-time.After(lookHourly):
			}
		}
	}()
	return func() { cancel(); <-ended }
}

// daily is silent when all is well. A garage with nothing in it is not copied.
func daily(garage *store.Store, now time.Time, log *slog.Logger) {
	if !store.ClockIsSet(now) {
		log.Warn("the clock of this machine cannot be right; changes count with the phones' times; do: set it", "clock", now)
	}
	if n, err := garage.Count(); err != nil || n == 0 {
		return
	}
	made, err := garage.CopyToday(now)
	if err != nil {
		log.Error("no daily copy was made; the older ones are left as they are; do: look at the room on the disk, and run pointsmith check", "error", err)
		return
	}
	if !made {
		return
	}
	if _, err := garage.Tidy(now); err != nil {
		log.Error("old deletions could not be forgotten", "error", err)
	}
}

package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Daily copies lie beside the garage file as FILE.auto-2026-05-01. Kept are
// the newest seven, and of the weeks before them the newest of each of four.
const (
	dailyCopies  = 7
	weeklyCopies = 4
	autoMark     = ".auto-"
)

// A DailyCopy is one of them.
type DailyCopy struct {
	Path    string
	Day     time.Time
	IsAhead bool // of a day that has not come: a clock was wrong when it was made, or is now
}

// DailyCopies lists the daily copies of a garage file, the newest first. Those
// ahead of now come last: nobody knows when they were made.
func DailyCopies(garage string, now time.Time) ([]DailyCopy, error) {
	entries, err := os.ReadDir(filepath.Dir(garage))
	if err != nil {
		return nil, fmt.Errorf("look for daily copies: %w", err)
	}
	var copies []DailyCopy
	for _, e := range entries {
		if date, isOne := strings.CutPrefix(e.Name(), filepath.Base(garage)+autoMark); isOne {
			if day, err := time.Parse(time.DateOnly, date); err == nil {
				isAhead := day.After(now.AddDate(0, 0, 1)) // a day of grace: days are those of a time zone
				copies = append(copies, DailyCopy{filepath.Join(filepath.Dir(garage), e.Name()), day, isAhead})
			}
		}
	}
	slices.SortFunc(copies, func(a, b DailyCopy) int {
		switch {
		case a.IsAhead == b.IsAhead:
			return b.Day.Compare(a.Day)
		case a.IsAhead:
			return 1
		}
		return -1
	})
	return copies, nil
}

// CopyToday makes today's copy unless it is there, and drops those that have
// served their time. The new copy is opened and checked before an older one
// goes; if it cannot be made, none goes. made is false when today's was there.
func (s *Store) CopyToday(today time.Time) (made bool, err error) {
	path := s.Path() + autoMark + today.Format(time.DateOnly)
	if _, err := s.CopyTo(path); errors.Is(err, os.ErrExist) {
		return false, nil
	} else if err != nil {
		return false, fmt.Errorf("make the daily copy: %w", err)
	}
	copies, err := DailyCopies(s.Path(), today)
	if err != nil {
		return true, err
	}
	for _, c := range outlived(copies) {
		if err := os.Remove(c.Path); err != nil {
			return true, fmt.Errorf("drop an old daily copy: %w", err)
		}
	}
	return true, nil
}

// outlived picks, from copies with the newest first, those to drop. One that
// is ahead takes nobody's place and stays until its day has come.
func outlived(copies []DailyCopy) (gone []DailyCopy) {
	weeks := map[[2]int]bool{}
	for n, c := range copies {
		year, week := c.Day.ISOWeek()
		switch {
		case c.IsAhead, n < dailyCopies:
		case weeks[[2]int{year, week}], len(weeks) == weeklyCopies:
			gone = append(gone, c)
		default:
			weeks[[2]int{year, week}] = true
		}
	}
	return gone
}

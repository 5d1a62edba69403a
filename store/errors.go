package store

import "errors"

// Opening a file.
var (
	// ErrLocked: another process holds the file.
	ErrLocked = errors.New("the garage file is in use by another Pointsmith; stop it or give -data another file")
	// ErrNewerSchema: the file was written by a later Pointsmith than this one.
	ErrNewerSchema = errors.New("the garage file was written by a newer Pointsmith; use that version, or give -data another file")
	// ErrNotGarage: the file is there but is not one of ours, or is damaged.
	ErrNotGarage = errors.New("this is not a garage file, or it is damaged; keep it safe and give -data another file")
)

// Reading.
var (
	// ErrNotFound: there is no document of that kind and id.
	ErrNotFound = errors.New("no such document")
)

// Writing.
var (
	// ErrKey: kind or id has characters or a length the store does not take.
	ErrKey = errors.New("kind must be 1 to 16 of a-z, id must be 16 to 32 of a-z and 0-9")
	// ErrBody: the body is not a JSON object.
	ErrBody = errors.New("the body must be a JSON object")
	// ErrTooLarge: the body is larger than MaxBody.
	ErrTooLarge = errors.New("the body is larger than 1 MiB")
	// ErrTime: the time of the change is missing or cannot be true.
	ErrTime = errors.New("the time of the change must lie between the years 2000 and 2200")
)

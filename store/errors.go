package store

import "errors"

// Opening a file.
var (
	// ErrLocked: another process holds the file.
	ErrLocked = errors.New("the garage file is in use by another Pointsmith; stop it or give -data another file")
	// ErrNewerSchema: the file was written by a later Pointsmith than this one.
	ErrNewerSchema = errors.New(
		"the garage file was written by a newer Pointsmith; use that version, or give -data another file")
	// ErrNotGarage: the file is there but is not one of ours.
	ErrNotGarage = errors.New("this is not a garage file; keep it safe and give -data another file")
	// ErrDamaged: the file is one of ours and is not as it was written.
	ErrDamaged = errors.New("the garage file is damaged")
	// ErrNoFile: a file that should be there is not.
	ErrNoFile = errors.New("there is no such file")
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
	// ErrTooManyKept: a further copy would have to be kept of a document that has MaxKept.
	ErrTooManyKept = errors.New("100 copies of this document wait for a choice; choose among them first")
	// ErrNoSpace: the disk is full, or the file may not grow.
	ErrNoSpace = errors.New(
		"there is no space left for the garage file; nothing of this change is stored, all before it is")
	// ErrTime: the time of the change is missing or cannot be true.
	ErrTime = errors.New("the time of the change must lie between the years 2000 and 2200")
)

// Photos.
var (
	// ErrPhoto: what was sent is no picture of a kind that is taken.
	ErrPhoto = errors.New("this is no JPEG, PNG or WebP picture")
	// ErrPhotoSize: the photo is larger than MaxPhoto.
	ErrPhotoSize = errors.New("the photo is larger than 1 MiB")
	// ErrPhotoSum: the id is not that of these bytes.
	ErrPhotoSum = errors.New("the photo is not what its id says")
	// ErrNoPhoto: there is no photo of that id.
	ErrNoPhoto = errors.New("no such photo")
)

// Choosing among copies.
var (
	// ErrTake: the choice is none of kept, current, both.
	ErrTake = errors.New("the choice must be kept, current or both")
	// ErrMoved: the document has changed since the person looked at it.
	ErrMoved = errors.New("the document has changed since it was looked at")
	// ErrChosen: another choice was made about this copy before.
	ErrChosen = errors.New("another choice was made about this copy before")
	// ErrTaken: the id for the new document is in use.
	ErrTaken = errors.New("a document of this id is there already")
)

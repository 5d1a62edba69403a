package web

import (
	"errors"
	"net/http"

	"pointsmith/calc"
	"pointsmith/calc/schema"
	"pointsmith/store"
)

const anyPicture = "image/*" // a media type range, as OpenAPI 3.1 takes them

// What the OpenAPI document says of the photos.
var (
	aboutPhotoList = about{summary: "the ids of all photos", members: true,
		out: object{"type": "object", "required": []string{"photos"}, "additionalProperties": false,
			"properties": object{"photos": object{"type": "array", "items": pathSchemas["photo"]}}}}

	aboutPhotoGet = about{summary: "a photo, as it was put", members: true, problems: []int{404, 422},
		media: anyPicture, out: object{}}

	aboutPhotoPut = about{summary: "keep a photo: JPEG, PNG or WebP, at most 1 MiB; the same again changes nothing",
		members: true, problems: []int{400, 413, 422, 507}, takes: anyPicture, in: object{},
		out: whole(schema.Of[photoKept]())}
)

// photoProblem says in words what stands in the way of a photo.
func photoProblem(err error) (calc.Problem, bool) {
	p := calc.Problem{Status: http.StatusUnprocessableEntity, Title: "This photo is refused", Field: "photo"}
	switch {
	case errors.Is(err, store.ErrNoPhoto):
		return calc.Problem{Status: http.StatusNotFound, Title: "There is no such photo", Field: "photo",
			Detail: "the garage holds no photo of this id", Do: "list the photos to see which there are"}, true
	case errors.Is(err, store.ErrPhoto):
		p.Detail, p.Limit, p.Do = "it is no picture of a kind that is taken", "JPEG, PNG or WebP, by its first bytes",
			"send a picture"
	case errors.Is(err, store.ErrPhotoSum):
		p.Detail, p.Limit, p.Do = "it is not what its id says",
			"the id is the first 32 hexadecimal digits of the SHA-256 of the bytes", "send it again"
	case errors.Is(err, store.ErrPhotoSize):
		p = tooLarge(store.MaxPhoto)
		p.Field = "photo"
	default:
		return p, false
	}
	return p, true
}

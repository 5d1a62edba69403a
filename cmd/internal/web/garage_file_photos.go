package web

import (
	"encoding/base64"
	"errors"
	"fmt"

	"pointsmith/calc/refuse"
	"pointsmith/store"
)

// A filePhoto is one picture in a garage file. The phone puts them in where
// the person ticks it; the server's own files leave them to the backup.
type filePhoto struct {
	ID   string `json:"id" need:"yes" maxLen:"32"`
	Data string `json:"data" need:"yes" maxLen:"1398104" help:"the picture in base64 (RFC 4648, section 4)"`
}

// readPhotos takes over the pictures of a file: each must be what its id says.
func (g *GarageFile) readPhotos(f garageFile) error {
	if f.LeftOut != nil {
		g.LeftOut = *f.LeftOut
	}
	for n, p := range f.Photos {
		photo, err := base64.StdEncoding.DecodeString(p.Data)
		if err == nil {
			err = store.CheckPhoto(p.ID, photo)
		}
		if err != nil {
			return refuse.Input(fmt.Sprintf("photos[%d]", n), "is not whole: "+photoTrouble(err),
				"a picture as it was exported", "export the garage again, or leave the photos out")
		}
		g.Photos = append(g.Photos, photo)
	}
	return nil
}

func photoTrouble(err error) string {
	if errors.As(err, new(base64.CorruptInputError)) {
		return "it is not base64"
	}
	return err.Error()
}

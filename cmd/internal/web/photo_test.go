package web

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"pointsmith/store"
)

// photograph is a JPEG of the standard library, of noise so that it is not
// small.
func photograph(t testing.TB, seed uint64) []byte {
	t.Helper()
	noise := rand.New(rand.NewPCG(seed, 1))
	picture := image.NewGray(image.Rect(0, 0, 160, 120))
	for n := range picture.Pix {
		picture.Pix[n] = uint8(noise.Uint32())
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, picture, nil); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func photoPath(photo []byte) string { return "/api/v1/photos/" + store.PhotoID(photo) }

func putPicture(s *Site, path string, photo []byte, change ...func(*http.Request)) *httptest.ResponseRecorder {
	return ask(s, "PUT", path, string(photo), append([]func(*http.Request){header("Content-Type", "image/jpeg")},
		change...)...)
}

func TestAPhotoComesBackAsItWasPut(t *testing.T) {
	s := newSite(t)
	photo := photograph(t, 1)
	if w := ask(s, "GET", "/api/v1/photos", ""); strings.TrimSpace(w.Body.String()) != `{"photos":[]}` {
		t.Errorf("of none: %s", w.Body)
	}
	for range 2 {
		kept := wantJSON[photoKept](t, putPicture(s, photoPath(photo), photo))
		if kept.Bytes != len(photo) || !strings.HasSuffix(photoPath(photo), kept.Photo) {
			t.Errorf("%+v", kept)
		}
	}
	w := ask(s, "GET", photoPath(photo), "")
	if w.Code != 200 || !bytes.Equal(w.Body.Bytes(), photo) || w.Header().Get("Content-Type") != "image/jpeg" ||
		w.Header().Get("X-Content-Type-Options") != "nosniff" {
		t.Errorf("%d, %d bytes, %v", w.Code, w.Body.Len(), w.Header())
	}
	list := wantJSON[photoList](t, ask(s, "GET", "/api/v1/photos", ""))
	if len(list.Photos) != 1 || list.Photos[0] != store.PhotoID(photo) {
		t.Errorf("%+v", list)
	}
}

func TestPhotosAreRefusedInWords(t *testing.T) {
	s := newSite(t)
	photo := photograph(t, 1)
	text := []byte("<!doctype html><script>alert(1)</script>")
	wantProblem(t, putPicture(s, photoPath(text), text), 422, "photo", "JPEG, PNG or WebP")
	wantProblem(t, putPicture(s, photoPath(photograph(t, 2)), photo), 422, "photo", "SHA-256", "send it again")
	wantProblem(t, putPicture(s, "/api/v1/photos/"+strings.ToUpper(store.PhotoID(photo)), photo), 422, "photo",
		"32 of 0-9 and a-f")
	large := append(bytes.Clone(photo), make([]byte, store.MaxPhoto)...)
	wantProblem(t, putPicture(s, photoPath(large), large), 413, "1048576 bytes")
	wantProblem(t, ask(s, "GET", photoPath(photo), ""), 404, "photo", "list the photos")
	if ids, err := s.store.PhotoIDs(); err != nil || len(ids) != 0 {
		t.Errorf("kept all the same: %v %v", ids, err)
	}
}

// That nobody uses them unpaired is in access_test.go, which asks all routes.
func TestPairedPhonesSendAndFetchPhotos(t *testing.T) {
	s := newSite(t)
	photo := photograph(t, 3)
	guest := bearer(pairedToken(t, s, false))
	wantProblem(t, putPicture(s, photoPath(photo), photo, from(phone)), 401, "paired")
	if w := putPicture(s, photoPath(photo), photo, from(phone), guest); w.Code != 200 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	wantProblem(t, ask(s, "GET", photoPath(photo), "", from(phone)), 401, "paired")
	if w := ask(s, "GET", photoPath(photo), "", from(phone), guest); !bytes.Equal(w.Body.Bytes(), photo) {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	wantProblem(t, ask(s, "GET", photoPath(photo), "", header("Sec-Fetch-Site", "cross-site")), 403, "Sec-Fetch-Site")
}

func TestThePhotoListFitsTheDocument(t *testing.T) {
	s := newSite(t)
	d := readAPI(t, s)
	photo := photograph(t, 4)
	put := wantJSON[map[string]any](t, putPicture(s, photoPath(photo), photo))
	list := wantJSON[map[string]any](t, ask(s, "GET", "/api/v1/photos", ""))
	schemaOf := func(path, method, media string) map[string]any {
		ok := d.Paths[path][method]["responses"].(map[string]any)["200"].(map[string]any)
		return ok["content"].(map[string]any)[media].(map[string]any)["schema"].(map[string]any)
	}
	for what, wrong := range map[string]string{
		"put":  misfit(d.Components.Schemas, schemaOf("/api/v1/photos/{photo}", "put", "application/json"), put, "put"),
		"list": misfit(d.Components.Schemas, schemaOf("/api/v1/photos", "get", "application/json"), list, "list"),
	} {
		if wrong != "" {
			t.Errorf("%s: %s", what, wrong)
		}
	}
	schemaOf("/api/v1/photos/{photo}", "get", "image/*")
	sent := d.Paths["/api/v1/photos/{photo}"]["put"]["requestBody"].(map[string]any)["content"].(map[string]any)
	if len(sent) != 1 || sent["image/*"] == nil {
		t.Errorf("sent is %v", sent)
	}
}

// A garage file from a phone may carry photos; the server's own says how many
// it leaves out.
func TestGarageFilesCarryPhotos(t *testing.T) {
	s := newSite(t)
	photo := photograph(t, 5)
	file := func(id string, data []byte) string {
		return fmt.Sprintf(`{"format":"pointsmith garage 1","documents":[],"photos":[{"id":%q,"data":%q}],"photosLeftOut":0}`,
			id, base64.StdEncoding.EncodeToString(data))
	}
	for want := 1; want >= 0; want-- {
		sum := wantJSON[store.Imported](t, ask(s, "POST", "/api/v1/import", file(store.PhotoID(photo), photo)))
		if sum.Photos != want {
			t.Errorf("%+v, want %d photos", sum, want)
		}
	}
	wantProblem(t, ask(s, "POST", "/api/v1/import", file(store.PhotoID(photo), photograph(t, 6))), 422, "photos[0]",
		"not what its id says")
	bad := strings.Replace(file(store.PhotoID(photo), photo), `"data":"`, `"data":"!`, 1)
	wantProblem(t, ask(s, "POST", "/api/v1/import", bad), 422, "photos[0]", "base64")
	read, err := ReadGarageFile(ask(s, "GET", "/api/v1/export", "").Body.Bytes())
	if err != nil || read.LeftOut != 1 || len(read.Photos) != 0 {
		t.Errorf("exported: %d photos left out, %d in it, %v", read.LeftOut, len(read.Photos), err)
	}
}

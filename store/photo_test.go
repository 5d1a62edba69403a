package store_test

import (
	"bytes"
	"errors"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	bolt "go.etcd.io/bbolt"

	"pointsmith/store"
	"pointsmith/store/storetest"
)

// picture is a PNG made by the standard library; no two widths are alike.
func picture(t testing.TB, width int) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, image.NewGray(image.Rect(0, 0, width, 3))); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func putPicture(t testing.TB, s *store.Store, photo []byte) string {
	t.Helper()
	id := store.PhotoID(photo)
	if err := s.PutPhoto(id, photo); err != nil {
		t.Fatal(err)
	}
	return id
}

// The digests are those of FIPS 180-4's example texts, as NIST publishes them
// (SHA-256 of "abc", and of the text of 448 bits).
func TestPhotoIDIsThePublishedDigest(t *testing.T) {
	for text, want := range map[string]string{
		"abc": "ba7816bf8f01cfea414140de5dae2223",
		"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": "248d6a61d20638b8e5c026930c3e6039",
	} {
		if got := store.PhotoID([]byte(text)); got != want {
			t.Errorf("%q has id %s, want %s", text, got, want)
		}
	}
}

func TestPhotosComeBackByteForByte(t *testing.T) {
	s := storetest.Open(t)
	if ids, err := s.PhotoIDs(); err != nil || ids == nil || len(ids) != 0 {
		t.Errorf("of none: %v %v", ids, err)
	}
	var want []string
	for width := range 5 {
		photo := picture(t, width+1)
		id := putPicture(t, s, photo)
		want = append(want, putPicture(t, s, photo)) // the same again is nothing new
		if got, err := s.Photo(id); err != nil || !bytes.Equal(got, photo) {
			t.Errorf("%s came back as %d bytes, %v", id, len(got), err)
		}
	}
	slices.Sort(want)
	if ids, err := s.PhotoIDs(); err != nil || !slices.Equal(ids, want) {
		t.Errorf("ids %v, %v; want %v", ids, err, want)
	}
	report, err := s.Inspect()
	if err != nil || report.Photos != 5 || report.PhotoBytes < 5*60 {
		t.Errorf("report %+v %v", report, err)
	}
	if _, err := s.Photo(strings.Repeat("0", 32)); !errors.Is(err, store.ErrNoPhoto) {
		t.Error(err)
	}
}

func TestPhotosAreRefusedWhole(t *testing.T) {
	s := storetest.Open(t)
	jpeg := []byte("\xff\xd8\xff\xe0")
	large := append(jpeg, make([]byte, store.MaxPhoto)...)
	for name, c := range map[string]struct {
		photo []byte
		id    string
		want  error
	}{
		"a text":            {[]byte("<svg xmlns"), "", store.ErrPhoto},
		"nothing":           {nil, "", store.ErrPhoto},
		"a sound":           {[]byte("RIFF\x00\x00\x00\x00WAVEfmt "), "", store.ErrPhoto},
		"a byte too many":   {large[:store.MaxPhoto+1], "", store.ErrPhotoSize},
		"another's id":      {picture(t, 9), store.PhotoID(picture(t, 8)), store.ErrPhotoSum},
		"no id":             {picture(t, 9), "x", store.ErrPhotoSum},
		"the whole digest":  {picture(t, 9), store.PhotoID(picture(t, 9)) + strings.Repeat("0", 32), store.ErrPhotoSum},
		"as much as can be": {large[:store.MaxPhoto], "", nil},
		"a WebP":            {[]byte("RIFF\x00\x00\x00\x00WEBPVP8 "), "", nil},
	} {
		if c.id == "" {
			c.id = store.PhotoID(c.photo)
		}
		if err := s.PutPhoto(c.id, c.photo); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	if ids, _ := s.PhotoIDs(); len(ids) != 2 {
		t.Errorf("%d photos are kept, want the two good ones", len(ids))
	}
}

// A copy and a restored file hold the photos.
func TestPhotosAreInCopies(t *testing.T) {
	dir := t.TempDir()
	path, saved := filepath.Join(dir, "garage.db"), filepath.Join(dir, "saved.db")
	s := storetest.OpenFile(t, path)
	photo := picture(t, 7)
	id := putPicture(t, s, photo)
	if _, err := s.CopyTo(saved); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Restore(saved, path, noon); err != nil {
		t.Fatal(err)
	}
	if got, err := storetest.OpenFile(t, path).Photo(id); err != nil || !bytes.Equal(got, photo) {
		t.Errorf("%d bytes, %v", len(got), err)
	}
}

// One flipped bit in a photo is found by the check and by whoever fetches it,
// and the other photos can still be had.
func TestAFlippedBitInAPhotoIsFound(t *testing.T) {
	path := filepath.Join(t.TempDir(), "garage.db")
	s := opened(t, path)
	sound, bad := picture(t, 5), picture(t, 6)
	soundID, badID := putPicture(t, s, sound), putPicture(t, s, bad)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	db, err := bolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	err = db.Update(func(tx *bolt.Tx) error {
		flipped := bytes.Clone(bad)
		flipped[len(flipped)/2] ^= 4
		return tx.Bucket([]byte("photos")).Put([]byte(badID), flipped)
	})
	if err := errors.Join(err, db.Close()); err != nil {
		t.Fatal(err)
	}
	s = opened(t, path)
	defer s.Close()
	if err := s.Check(); !errors.Is(err, store.ErrDamaged) || !strings.Contains(err.Error(), badID) {
		t.Errorf("the check says %v", err)
	}
	if _, err := s.Photo(badID); !errors.Is(err, store.ErrDamaged) {
		t.Errorf("the photo: %v", err)
	}
	if got, err := s.Photo(soundID); err != nil || !bytes.Equal(got, sound) {
		t.Errorf("the other: %v", err)
	}
}

// opened is a store whose file is left as the test leaves it.
func opened(t testing.TB, path string) *store.Store {
	t.Helper()
	s, err := store.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The photos of a file come in together with its documents or not at all.
func TestImportTakesPhotosIn(t *testing.T) {
	s := storetest.Open(t)
	photo := picture(t, 4)
	sum, err := s.Import([]store.Change{change("", 0, `{"name":"A"}`)}, nil, noon, photo, picture(t, 3))
	if err != nil || sum.Photos != 2 || sum.New != 1 {
		t.Errorf("%+v %v", sum, err)
	}
	if sum, err := s.Import(nil, nil, noon, photo); err != nil || sum.Photos != 0 {
		t.Errorf("again: %+v %v", sum, err)
	}
	if _, err := s.Import([]store.Change{change("", 1, `no body`)}, nil, noon, picture(t, 2)); err == nil {
		t.Error("a bad file was taken in")
	}
	if ids, _ := s.PhotoIDs(); len(ids) != 2 {
		t.Errorf("%d photos, want 2", len(ids))
	}
}

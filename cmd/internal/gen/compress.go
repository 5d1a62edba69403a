package main

import (
	"bytes"
	"compress/gzip"
	"io"

	"github.com/andybalholm/brotli"
)

// brotliLevel 11 is 4 % smaller than 10 and takes twice as long, some ten
// seconds; it runs only when the engine changed.
const brotliLevel = 11

func compress(program []byte, suffix string, coding func(io.Writer) io.WriteCloser) (int, error) {
	var out bytes.Buffer
	w := coding(&out)
	if _, err := w.Write(program); err != nil {
		return 0, err
	}
	if err := w.Close(); err != nil {
		return 0, err
	}
	return out.Len(), write(engine+suffix, out.Bytes())
}

func gzipped(w io.Writer) io.WriteCloser {
	z, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil { // only for a level that does not exist
		panic(err)
	}
	return z
}

func brotlied(w io.Writer) io.WriteCloser { return brotli.NewWriterLevel(w, brotliLevel) }

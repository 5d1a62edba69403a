package pagefile

import (
	"encoding/binary"
	"errors"
	"hash/fnv"
	"io"
)

// What bbolt's two first pages hold, from its documented format of version 2:
// a head of 16 bytes, then magic, version, page size, flags (4 bytes each),
// root (16), free list, number of pages, transaction, sum (8 each).
const (
	magic    = 0xED0CDAED
	pageHead = 16
	metaSize = 64
)

// Page sizes bbolt may use: those of the machine that made the file.
const (
	minPage = 1 << 10
	maxPage = 1 << 16
)

// A Meta is one of the two first pages.
type Meta struct {
	HasMagic, IsWhole            bool
	PageSize, Pages, Transaction uint64
	Root, Freelist               uint64
}

// Metas reads the two first pages. Where the second lies, its own size of a
// page says.
func Metas(f io.ReaderAt) (first, second Meta) {
	first = readMeta(f, 0)
	for at := int64(minPage); at <= maxPage; at *= 2 {
		m := readMeta(f, at)
		if m.IsWhole && m.PageSize == uint64(at) {
			return first, m
		}
		second.HasMagic = second.HasMagic || m.HasMagic
	}
	return first, second
}

// Newest is the one that counts: the later of those that are whole.
func Newest(first, second Meta) Meta {
	if second.IsWhole && (!first.IsWhole || second.Transaction > first.Transaction) {
		return second
	}
	return first
}

// HasPages reports whether a file whose first pages say nothing has bbolt's
// pages further on: each begins with its own number.
func HasPages(f io.ReaderAt) bool {
	for size := int64(minPage); size <= maxPage; size *= 2 {
		found := 0
		head := make([]byte, 8)
		for id := int64(2); id < 12; id++ { // chosen: a new garage has four pages
			if _, err := f.ReadAt(head, id*size); err == nil && binary.NativeEndian.Uint64(head) == uint64(id) {
				found++
			}
		}
		if found >= 2 {
			return true
		}
	}
	return false
}

func readMeta(f io.ReaderAt, at int64) (m Meta) {
	page := make([]byte, pageHead+metaSize)
	if _, err := f.ReadAt(page, at); err != nil && !errors.Is(err, io.EOF) {
		return m
	}
	meta := page[pageHead:]
	sum := fnv.New64a()
	_, _ = sum.Write(meta[:metaSize-8])
	m.HasMagic = binary.NativeEndian.Uint32(meta) == magic
	m.IsWhole = m.HasMagic && binary.NativeEndian.Uint64(meta[56:]) == sum.Sum64()
	m.PageSize = uint64(binary.NativeEndian.Uint32(meta[8:]))
	m.Root, m.Freelist = binary.NativeEndian.Uint64(meta[16:]), binary.NativeEndian.Uint64(meta[32:])
	m.Pages = binary.NativeEndian.Uint64(meta[40:])
	m.Transaction = binary.NativeEndian.Uint64(meta[48:])
	return m
}

package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"

	bolt "go.etcd.io/bbolt"
)

// A pageFile reads bbolt's pages by their documented format (version 2) and
// believes nothing in them: no number leads out of the file, and no page is
// read twice. bbolt itself panics at a damaged page, or counts to two thousand
// million when the length of one is damaged.
type pageFile struct {
	from  io.ReaderAt
	size  uint64 // bytes of a page
	pages uint64 // in the file
	meta  boltMeta
	other bool // the other of the two first pages is whole too
	seen  map[uint64]bool
}

// A page's head is id (8), flags (2), count (2), overflow (4); the elements
// follow, 16 bytes each. Of a leaf: flags, pos, key size, value size; of a
// branch: pos, key size, page (8). pos counts from the element.
const (
	branchFlag     = 0x01
	leafFlag       = 0x02
	freelistFlag   = 0x10
	elementSize    = 16
	isBucketFlag   = 0x01
	bucketHeadSize = 16 // root page (8), sequence (8); an inline page follows where root is 0
)

var errPage = errors.New("a page is not as it was written")

// openPages finds the newer of the two first pages that is whole.
func openPages(f *os.File) (*pageFile, error) {
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	first, second, size := bothMetas(f)
	p := &pageFile{from: f, size: size, other: first.isWhole && second.isWhole, meta: first, seen: map[uint64]bool{}}
	if second.isWhole && (!first.isWhole || second.transaction > first.transaction) {
		p.meta = second
	}
	if !p.meta.isWhole || size == 0 {
		return nil, fmt.Errorf("%w: neither of its two first pages can be read", ErrDamaged)
	}
	p.pages = uint64(info.Size()) / size
	return p, nil
}

// bothMetas reads the first two pages. The second tells the size of a page
// when the first does not.
func bothMetas(f io.ReaderAt) (first, second boltMeta, size uint64) {
	first = readMeta(f, 0)
	for at := int64(minPage); at <= maxPage; at *= 2 {
		if m := readMeta(f, at); m.isWhole && m.pageSize == uint64(at) {
			return first, m, m.pageSize
		}
	}
	if first.isWhole {
		size = first.pageSize
	}
	return first, second, size
}

// page reads a page with what runs over from it.
func (p *pageFile) page(id uint64) (page []byte, err error) {
	if id < 2 || id >= p.pages {
		return nil, errPage
	}
	head := make([]byte, boltPageHead)
	if _, err := p.from.ReadAt(head, int64(id*p.size)); err != nil {
		return nil, err
	}
	over := uint64(binary.NativeEndian.Uint32(head[12:]))
	isWhole := id+over < p.pages
	if !isWhole {
		over = 0
	}
	page = make([]byte, (over+1)*p.size)
	if _, err := p.from.ReadAt(page, int64(id*p.size)); err != nil {
		return nil, err
	}
	if !isWhole || binary.NativeEndian.Uint64(head) != id {
		return page, errPage
	}
	return page, nil
}

func flagsOf(page []byte) uint16 { return binary.NativeEndian.Uint16(page[8:]) }
func countOf(page []byte) int    { return int(binary.NativeEndian.Uint16(page[10:])) }

// A leaf is one entry of a leaf page.
type leaf struct {
	isBucket   bool
	key, value []byte
}

// leaves reads the entries of a leaf page. Where the count is damaged, where
// the first entry begins tells how many there are; of an entry that leads out
// of the page nothing is given, and unread counts it.
func leaves(page []byte) (all []leaf, unread int) {
	count := countOf(page)
	if len(page) >= boltPageHead+elementSize {
		first := int(binary.NativeEndian.Uint32(page[boltPageHead+4:]))
		if n := first / elementSize; first%elementSize == 0 && n > 0 && boltPageHead+n*elementSize <= len(page) &&
			n != count {
			count, unread = n, 1
		}
	}
	for n := range count {
		at := boltPageHead + n*elementSize
		if at+elementSize > len(page) {
			return all, unread + count - n
		}
		e := page[at:]
		from := uint64(at) + uint64(binary.NativeEndian.Uint32(e[4:]))
		key := from + uint64(binary.NativeEndian.Uint32(e[8:]))
		end := key + uint64(binary.NativeEndian.Uint32(e[12:]))
		if end > uint64(len(page)) {
			unread++
			continue
		}
		all = append(all, leaf{binary.NativeEndian.Uint32(e)&isBucketFlag != 0, page[from:key], page[key:end]})
	}
	return all, unread
}

// walk visits every entry under a page, and tells of pages it cannot follow.
func (p *pageFile) walk(id uint64, visit func(l leaf), trouble func()) {
	if p.seen[id] {
		trouble()
		return
	}
	p.seen[id] = true
	page, err := p.page(id)
	if err != nil {
		trouble()
	}
	for over := range uint64(len(page)) / max(p.size, 1) {
		p.seen[id+over] = true
	}
	switch {
	case page == nil:
	case flagsOf(page) == branchFlag:
		for n := range countOf(page) {
			at := boltPageHead + n*elementSize
			if at+elementSize > len(page) {
				trouble()
				return
			}
			p.walk(binary.NativeEndian.Uint64(page[at+8:]), visit, trouble)
		}
	case flagsOf(page)&leafFlag != 0:
		all, unread := leaves(page)
		if unread > 0 || flagsOf(page) != leafFlag {
			trouble()
		}
		for _, l := range all {
			visit(l)
		}
	default:
		trouble()
	}
}

// bucketIn walks a bucket, by the value that stands for it in its parent.
func (p *pageFile) bucketIn(value []byte, visit func(l leaf), trouble func()) {
	if len(value) < bucketHeadSize {
		trouble()
		return
	}
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		p.walk(root, visit, trouble)
		return
	}
	inline := value[bucketHeadSize:]
	if len(inline) < boltPageHead {
		trouble()
		return
	}
	all, unread := leaves(inline)
	if unread > 0 {
		trouble()
	}
	for _, l := range all {
		visit(l)
	}
}

// checkHeads proves of every page in use what bbolt believes unasked: that it
// is where it says, and ends in the file.
func checkHeads(tx *bolt.Tx) (err error) {
	f, err := os.Open(tx.DB().Path())
	if err != nil {
		return err
	}
	defer f.Close()
	p := &pageFile{from: f, size: uint64(tx.DB().Info().PageSize), seen: map[uint64]bool{}}
	p.pages = uint64(tx.Size()) / p.size
	trouble := func() { err = fmt.Errorf("%w: %v", ErrDamaged, errPage) }
	p.walk(uint64(tx.Cursor().Bucket().Root()), func(l leaf) {
		if l.isBucket {
			p.bucketIn(l.value, func(leaf) {}, trouble)
		}
	}, trouble)
	first, second, _ := bothMetas(f)
	for _, m := range []boltMeta{first, second} { // neither, when others have written since
		if m.isWhole && m.transaction == uint64(tx.ID()) {
			if page, bad := p.page(m.freelist); bad != nil || flagsOf(page) != freelistFlag {
				trouble()
			}
		}
	}
	return err
}

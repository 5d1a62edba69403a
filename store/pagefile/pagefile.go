package pagefile

import (
	"encoding/binary"
	"errors"
	"io"
)

// A File reads bbolt's pages by their documented format (version 2) and
// believes nothing in them: no number leads out of the file, and no page of
// a bucket is read twice. bbolt itself panics at a damaged page, or counts to
// two thousand million when the length of one is damaged.
type File struct {
	Meta         Meta              // the newer of the two first pages that are whole
	OtherIsWhole bool              // the other is whole too
	Seen         map[uint64]bool   // pages reached so far
	OnLeaf       func(page []byte) // is shown every leaf page that Walk reads, or nil

	from        io.ReaderAt
	size, pages uint64          // bytes of a page; pages in the file
	here        map[uint64]bool // pages of the bucket that is being walked
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

// What is wrong with pages.
var (
	ErrFirst = errors.New("neither of its two first pages can be read")
	ErrPage  = errors.New("a page is not as it was written")
	ErrFree  = errors.New("the list of free pages is not as it was written")
)

// New reads the first pages of a file of so many bytes. It returns ErrFirst
// when none of them is whole.
func New(from io.ReaderAt, bytes int64) (*File, error) {
	first, second := Metas(from)
	p := &File{Meta: Newest(first, second), OtherIsWhole: first.IsWhole && second.IsWhole, Seen: map[uint64]bool{},
		from: from}
	if p.size = p.Meta.PageSize; !p.Meta.IsWhole || p.size < minPage {
		return nil, ErrFirst
	}
	p.pages = uint64(bytes) / p.size
	return p, nil
}

// Page reads a page with what runs over from it.
func (p *File) Page(id uint64) (page []byte, err error) {
	if id < 2 || id >= p.pages {
		return nil, ErrPage
	}
	head := make([]byte, pageHead)
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
		return page, ErrPage
	}
	return page, nil
}

// IsLeaf reports whether a page says that it holds entries.
func IsLeaf(page []byte) bool { return flagsOf(page)&leafFlag != 0 }

func flagsOf(page []byte) uint16 { return binary.NativeEndian.Uint16(page[8:]) }
func countOf(page []byte) int    { return int(binary.NativeEndian.Uint16(page[10:])) }

// A Leaf is one entry of a leaf page.
type Leaf struct {
	IsBucket   bool
	Key, Value []byte
}

// Leaves reads the entries of a leaf page. Where the count is damaged, where
// the first entry begins tells how many there are; of an entry that leads out
// of the page nothing is given, and unread counts it.
func Leaves(page []byte) (all []Leaf, unread int) {
	count := countOf(page)
	if len(page) >= pageHead+elementSize {
		first := int(binary.NativeEndian.Uint32(page[pageHead+4:]))
		if n := first / elementSize; first%elementSize == 0 && n > 0 && pageHead+n*elementSize <= len(page) &&
			n != count {
			count, unread = n, 1
		}
	}
	for n := range count {
		at := pageHead + n*elementSize
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
		all = append(all, Leaf{binary.NativeEndian.Uint32(e)&isBucketFlag != 0, page[from:key], page[key:end]})
	}
	return all, unread
}

// Walk visits every entry under a page, and tells of pages it cannot follow.
func (p *File) Walk(id uint64, visit func(l Leaf), trouble func()) {
	if p.here[id] {
		trouble()
		return
	}
	if p.here == nil {
		p.here = map[uint64]bool{}
	}
	p.here[id], p.Seen[id] = true, true
	page, err := p.Page(id)
	if err != nil {
		trouble()
	}
	for over := range uint64(len(page)) / max(p.size, 1) {
		p.Seen[id+over] = true
	}
	switch {
	case page == nil:
	case flagsOf(page) == branchFlag:
		p.branch(page, visit, trouble)
	case flagsOf(page)&leafFlag != 0:
		if p.OnLeaf != nil {
			p.OnLeaf(page)
		}
		all, unread := Leaves(page)
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

// branch walks what a branch page leads to.
func (p *File) branch(page []byte, visit func(l Leaf), trouble func()) {
	for n := range countOf(page) {
		at := pageHead + n*elementSize
		if at+elementSize > len(page) {
			trouble()
			return
		}
		key := uint64(at) + uint64(binary.NativeEndian.Uint32(page[at:]))
		if key+uint64(binary.NativeEndian.Uint32(page[at+4:])) > uint64(len(page)) {
			trouble() // the key is of no use here, and bbolt would read it to its end
		}
		p.Walk(binary.NativeEndian.Uint64(page[at+8:]), visit, trouble)
	}
}

// Bucket walks a bucket, by the value that stands for it in its parent.
func (p *File) Bucket(value []byte, visit func(l Leaf), trouble func()) {
	if len(value) < bucketHeadSize {
		trouble()
		return
	}
	defer func(around map[uint64]bool) { p.here = around }(p.here)
	p.here = nil
	if root := binary.NativeEndian.Uint64(value); root != 0 {
		p.Walk(root, visit, trouble)
		return
	}
	inline := value[bucketHeadSize:]
	if len(inline) < pageHead {
		trouble()
		return
	}
	all, unread := Leaves(inline)
	if unread > 0 {
		trouble()
	}
	for _, l := range all {
		visit(l)
	}
}

// Free reads the list of free pages.
func (p *File) Free() (map[uint64]bool, error) {
	page, err := p.Page(p.Meta.Freelist)
	if err != nil || flagsOf(page) != freelistFlag {
		return nil, ErrFree
	}
	ids := page[pageHead:]
	count := uint64(countOf(page))
	if count == 0xFFFF { // by the format, the number is too large for the head then, and stands first
		count, ids = binary.NativeEndian.Uint64(ids), ids[8:]
	}
	all := map[uint64]bool{}
	for n := range count {
		if (n+1)*8 > uint64(len(ids)) {
			return nil, ErrFree
		}
		id := binary.NativeEndian.Uint64(ids[n*8:])
		if id < 2 || id >= p.Meta.Pages || all[id] {
			return nil, ErrFree
		}
		all[id] = true
	}
	return all, nil
}

package store

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"

	bolt "go.etcd.io/bbolt"
)

// Every entry is sealed: a byte of state, four bytes of check sum, and what it
// says. The sum is of the names of bucket and key, the state and what is said,
// so that an entry proves itself only where it was put. A photo is proved by
// its key, the feed by the documents.
//
// A bucket that has lost an entry proves nothing by itself. So each has its
// tally, in the entry "sums" of meta: how many entries there are, the sum of
// their check sums, and the sequence of the bucket. Whatever writes goes
// through put, drop and nextIn, which keep the tally.

// The first byte of a stored entry, so that documents can be counted without
// reading them. Four bytes of check sum follow.
const (
	sealedLive    = 'A'
	sealedDeleted = 'Z'
	sealedEntry   = 'E' // what is no version of a document

	stateLive    = 'L' // layouts 3 and 4: the sum is of what is said alone
	stateDeleted = 'D'
	oldLive      = 'l' // up to layout 2: JSON follows at once
	oldDeleted   = 'd'
)

const headLength = 5

var (
	castagnoli   = crc32.MakeTable(crc32.Castagnoli)
	bucketBroken = []byte("broken")
	keySums      = []byte("sums")

	// tallied are the buckets in the order of their tallies. It is part of the
	// stored format: a new one goes to the end.
	tallied = [][]byte{bucketDocuments, bucketFeed, bucketKept, bucketPast, bucketAnswers, bucketChosen, bucketPhotos,
		bucketDevices, bucketCodes, bucketBroken}
)

// sealed makes an entry of what is said in it.
func sealed(bucket, key []byte, state byte, said []byte) []byte {
	return sealHead(bucket, key, state, append(make([]byte, headLength, headLength+len(said)), said...))
}

// sealHead fills the head of an entry that has room for it.
func sealHead(bucket, key []byte, state byte, entry []byte) []byte {
	entry[0] = state
	binary.BigEndian.PutUint32(entry[1:], sealSum(bucket, key, entry))
	return entry
}

func sealSum(bucket, key, entry []byte) uint32 {
	sum := crc32.Checksum(bucket, castagnoli)
	sum = crc32.Update(sum, castagnoli, []byte{0})
	sum = crc32.Update(sum, castagnoli, key)
	sum = crc32.Update(sum, castagnoli, []byte{0, entry[0]})
	return crc32.Update(sum, castagnoli, entry[headLength:])
}

// isSealed reports whether an entry is, by its first byte, of layout 5 or later.
func isSealed(entry []byte) bool {
	return len(entry) > headLength &&
		(entry[0] == sealedLive || entry[0] == sealedDeleted || entry[0] == sealedEntry)
}

// unseal proves an entry and gives what it says. One from before layout 5 has
// no seal; what it says is proved by whoever reads it.
func unseal(bucket, key, entry []byte) (said []byte, err error) {
	switch {
	case len(entry) > 0 && entry[0] == '{':
		return entry, nil
	case len(entry) <= headLength:
		return nil, fmt.Errorf("%w: a record is cut short", ErrDamaged)
	case isSealed(entry) && sealSum(bucket, key, entry) == binary.BigEndian.Uint32(entry[1:]):
		return entry[headLength:], nil
	}
	return nil, fmt.Errorf("%w: a record of %q is not as it was written", ErrDamaged, bucket)
}

// put writes an entry, drop takes one out, nextIn counts the sequence on.
func put(tx *bolt.Tx, bucket, key, entry []byte) error {
	b := tx.Bucket(bucket)
	err := note(tx, bucket, func(t *tally) {
		t.less(bucket, key, b.Get(key))
		t.more(bucket, key, entry)
	})
	if err != nil {
		return err
	}
	return b.Put(key, entry)
}

func drop(tx *bolt.Tx, bucket, key []byte) error {
	b := tx.Bucket(bucket)
	if err := note(tx, bucket, func(t *tally) { t.less(bucket, key, b.Get(key)) }); err != nil {
		return err
	}
	return b.Delete(key)
}

func nextIn(tx *bolt.Tx, bucket []byte) (next uint64, err error) {
	if next, err = tx.Bucket(bucket).NextSequence(); err != nil {
		return 0, err
	}
	return next, note(tx, bucket, func(t *tally) { t.sequence = next })
}

// putMeta writes an entry of meta, which the sums cover too.
func putMeta(tx *bolt.Tx, key, value []byte) error {
	meta := tx.Bucket(bucketMeta)
	if err := meta.Put(key, value); err != nil {
		return err
	}
	sums := bytes.Clone(meta.Get(keySums))
	if sums == nil {
		return nil // of an older layout
	}
	return meta.Put(keySums, closeSums(tx, sums))
}

// A tally is what is known of a whole bucket.
type tally struct{ entries, sum, sequence uint64 }

func (t *tally) more(bucket, key, entry []byte) {
	t.entries++
	t.sum += uint64(entrySum(bucket, key, entry))
}

func (t *tally) less(bucket, key, entry []byte) {
	if entry != nil {
		t.entries--
		t.sum -= uint64(entrySum(bucket, key, entry))
	}
}

// entrySum is the check sum in an entry's head, or that of its key and value
// where there is none.
func entrySum(bucket, key, entry []byte) uint32 {
	switch {
	case isSealed(entry):
		return binary.BigEndian.Uint32(entry[1:])
	case bytes.Equal(bucket, bucketPhotos):
		return crc32.Checksum(key, castagnoli)
	}
	return crc32.Update(crc32.Checksum(key, castagnoli), castagnoli, entry)
}

// The entry of the sums: its head, the layout, the sum of the other entries of
// meta, and three numbers a bucket, all of them big-endian.
const (
	sumsMeta    = headLength + 8
	sumsTallies = sumsMeta + 4
	tallyLength = 24
)

// note changes the tally of one bucket. A file of an older layout has none.
func note(tx *bolt.Tx, bucket []byte, change func(t *tally)) error {
	meta := tx.Bucket(bucketMeta)
	if meta == nil || meta.Get(keySums) == nil {
		return nil
	}
	sums := bytes.Clone(meta.Get(keySums))
	for n, name := range tallied {
		if at := sumsTallies + n*tallyLength; bytes.Equal(name, bucket) && at+tallyLength <= len(sums) {
			t := tallyAt(sums, n)
			change(&t)
			t.write(sums[at:])
		}
	}
	return meta.Put(keySums, sealHead(bucketMeta, keySums, sealedEntry, sums))
}

func tallyAt(sums []byte, n int) (t tally) {
	at := sums[sumsTallies+n*tallyLength:]
	return tally{binary.BigEndian.Uint64(at), binary.BigEndian.Uint64(at[8:]), binary.BigEndian.Uint64(at[16:])}
}

func (t tally) write(at []byte) {
	binary.BigEndian.PutUint64(at, t.entries)
	binary.BigEndian.PutUint64(at[8:], t.sum)
	binary.BigEndian.PutUint64(at[16:], t.sequence)
}

// entriesIn is how many entries a bucket has by its tally.
func entriesIn(tx *bolt.Tx, bucket []byte) (entries uint64) {
	sums := tx.Bucket(bucketMeta).Get(keySums)
	for n, name := range tallied {
		if bytes.Equal(name, bucket) && sumsTallies+(n+1)*tallyLength <= len(sums) {
			entries = tallyAt(sums, n).entries
		}
	}
	return entries
}

// recount makes the sums anew from what is in the file.
func recount(tx *bolt.Tx) error {
	sums := make([]byte, sumsTallies+len(tallied)*tallyLength)
	for n, name := range tallied {
		b := tx.Bucket(name)
		if b == nil {
			continue
		}
		t := tally{sequence: b.Sequence()}
		if err := b.ForEach(func(k, v []byte) error { t.more(name, k, v); return nil }); err != nil {
			return err
		}
		t.write(sums[sumsTallies+n*tallyLength:])
	}
	return tx.Bucket(bucketMeta).Put(keySums, closeSums(tx, sums))
}

// closeSums writes layout and meta's own sum, and seals.
func closeSums(tx *bolt.Tx, sums []byte) []byte {
	meta := tx.Bucket(bucketMeta)
	copy(sums[headLength:sumsMeta], make([]byte, 8))
	copy(sums[headLength:sumsMeta], meta.Get(keyVersion))
	binary.BigEndian.PutUint32(sums[sumsMeta:], metaSum(meta))
	return sealHead(bucketMeta, keySums, sealedEntry, sums)
}

func metaSum(meta *bolt.Bucket) uint32 {
	sum := uint32(0)
	_ = meta.ForEach(func(k, v []byte) error { // visit fails for nothing, so this does not
		if !bytes.Equal(k, keySums) {
			sum = crc32.Update(sum, castagnoli, k)
			sum = crc32.Update(sum, castagnoli, append([]byte{0}, v...))
		}
		return nil
	})
	return sum
}

// checkMeta proves the entries of meta against the sums; sums is nil for a
// file of a layout that had none.
func checkMeta(meta *bolt.Bucket) (sums []byte, err error) {
	if sums = meta.Get(keySums); sums == nil {
		if v := meta.Get(keyVersion); len(v) == 8 && binary.BigEndian.Uint64(v) >= sealedSince {
			return nil, fmt.Errorf("%w: the sums of the garage are missing", ErrDamaged)
		}
		return nil, nil
	}
	if _, err := unseal(bucketMeta, keySums, sums); err != nil || len(sums) < sumsTallies {
		return nil, fmt.Errorf("%w: the sums of the garage are not as they were written", ErrDamaged)
	}
	if binary.BigEndian.Uint32(sums[sumsMeta:]) != metaSum(meta) {
		return nil, fmt.Errorf("%w: the layout or the name of the garage is not as it was written", ErrDamaged)
	}
	return sums, nil
}

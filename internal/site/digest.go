package site

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"io"
)

// digestOf stands for texts in their order. Each is told apart from the next by its
// length.
func digestOf(texts ...string) Digest { return digestOfBoth(texts, nil) }

// digestOfBoth stands for the texts of one list, and after them those of another.
func digestOfBoth(first, rest []string) Digest {
	both := [...][]string{first, rest}
	long := 0
	for _, texts := range both {
		for _, text := range texts {
			long += 8 + len(text)
		}
	}
	if long > fewBytes {
		d := newDigesting()
		d.add(first...)
		d.add(rest...)
		return d.digest()
	}
	var few [fewBytes]byte // on the stack: of most trials there is little
	whole := few[:0]
	for _, texts := range both {
		for _, text := range texts {
			whole = append(binary.LittleEndian.AppendUint64(whole, uint64(len(text))), text...)
		}
	}
	sum := sha256.Sum256(whole)
	return Digest(sum[:])
}

// digesting is a digest of very many texts, which come one after the other.
type digesting struct {
	sum hash.Hash
	few []byte // that are not in the sum yet
}

func newDigesting() *digesting { return &digesting{sum: sha256.New(), few: make([]byte, 0, fewBytes)} }

// fewBytes is how many bytes go into the sum at a time.
const fewBytes = 1024

func (d *digesting) add(texts ...string) {
	for _, text := range texts {
		if len(d.few)+8+len(text) > cap(d.few) {
			d.flush()
		}
		d.few = binary.LittleEndian.AppendUint64(d.few, uint64(len(text)))
		if len(d.few)+len(text) > cap(d.few) {
			d.flush()
			_, _ = io.WriteString(d.sum, text) // a hash takes everything
			continue
		}
		d.few = append(d.few, text...)
	}
}

// addDigest adds a digest, as add does its text.
func (d *digesting) addDigest(of Digest) {
	if len(d.few)+8+len(of) > cap(d.few) {
		d.flush()
	}
	d.few = append(binary.LittleEndian.AppendUint64(d.few, uint64(len(of))), of[:]...)
}

func (d *digesting) flush() {
	d.sum.Write(d.few)
	d.few = d.few[:0]
}

func (d *digesting) digest() Digest {
	d.flush()
	return Digest(d.sum.Sum(nil))
}

// text is the digest as one of the texts of another.
func (d Digest) text() string { return string(d[:]) }

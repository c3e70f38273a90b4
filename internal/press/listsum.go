package press

import (
	"crypto/sha256"
	"hash"
	"io"
	"maps"
	"slices"
)

// sumPiece is how much of a list has a checksum of its own, in bytes.
const sumPiece = 64 << 10

// listSum works out the checksum of a list, which is the SHA-256 of those of its pieces, one
// after the other, each sumPiece long but for the last. So it need not be read as a whole
// again where a few of very many lines became others.
type listSum struct {
	pieces []digest  // that have come to their end
	last   hash.Hash // of the one that has not
	size   int       // how much of that there is
}

func newListSum() *listSum { return &listSum{last: sha256.New()} }

// sumOfList is the checksum of a list.
func sumOfList(text []byte) digest {
	s := newListSum()
	_, _ = s.Write(text) // it takes everything
	return s.sum()
}

func (s *listSum) Write(text []byte) (int, error) {
	for rest := text; len(rest) > 0; {
		n := min(len(rest), sumPiece-s.size)
		s.last.Write(rest[:n]) // as a hash it takes everything
		s.size += n
		if rest = rest[n:]; s.size == sumPiece {
			s.end()
		}
	}
	return len(text), nil
}

// end ends a piece.
func (s *listSum) end() {
	s.pieces = append(s.pieces, digest(s.last.Sum(nil)))
	s.last.Reset()
	s.size = 0
}

// sum is the checksum of what was written, to which nothing may be added then.
func (s *listSum) sum() digest {
	if s.size > 0 {
		s.end()
	}
	all := sha256.New()
	for _, piece := range s.pieces {
		all.Write(piece[:])
	}
	return digest(all.Sum(nil))
}

// otherPieces are the pieces of a list in which something became another.
type otherPieces map[int64]bool

// add adds so many bytes from that place on.
func (o otherPieces) add(at int64, size int) {
	o[at/sumPiece] = true
	o[(at+int64(size)-1)/sumPiece] = true
}

// again works out the checksums of these pieces once more. All of the list was written before.
func (s *listSum) again(o otherPieces, list io.ReaderAt) error {
	if s.size > 0 {
		s.end()
	}
	piece := make([]byte, sumPiece)
	for _, number := range slices.Sorted(maps.Keys(o)) {
		n, err := list.ReadAt(piece, number*sumPiece)
		if err != nil && err != io.EOF { // which is where the last one ends
			return err
		}
		s.pieces[number] = sha256.Sum256(piece[:n])
	}
	return nil
}

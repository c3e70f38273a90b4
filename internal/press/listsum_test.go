package press

import (
	"bytes"
	"crypto/sha256"
	"math/rand/v2"
	"slices"
	"testing"
	"testing/iotest"
)

// sumByPieces is what listSum should come to, said in another way.
func sumByPieces(text []byte) digest {
	var all []byte
	for piece := range slices.Chunk(text, sumPiece) {
		sum := sha256.Sum256(piece)
		all = append(all, sum[:]...)
	}
	return sha256.Sum256(all)
}

// TestListSum: the checksum of a list does not depend on how it is written, and where some of
// it becomes another, it is the one that the whole has.
func TestListSum(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, size := range []int{0, 1, sumPiece - 1, sumPiece, sumPiece + 1, 3 * sumPiece, 5*sumPiece + 77} {
		text := make([]byte, size)
		for i := range text {
			text[i] = byte(random.Uint32())
		}
		s := newListSum()
		for rest := text; len(rest) > 0; {
			n := min(len(rest), 1+random.IntN(sumPiece+sumPiece/2))
			if _, err := s.Write(rest[:n]); err != nil {
				t.Fatal(err)
			}
			rest = rest[n:]
		}
		others := otherPieces{}
		for _, at := range []int{0, sumPiece - 2, sumPiece, size - 5} { // the second is in two pieces
			if at < 0 || at+5 > size {
				continue
			}
			copy(text[at:], "other")
			others.add(int64(at), 5)
		}
		if err := s.again(others, bytes.NewReader(text)); err != nil {
			t.Fatal(err)
		}
		if got, want := s.sum(), sumByPieces(text); got != want {
			t.Errorf("%d bytes, corrected: %v, want %v", size, got, want)
		}
		if got, want := sumOfList(text), sumByPieces(text); got != want {
			t.Errorf("%d bytes: %v, want %v", size, got, want)
		}
	}
}

// TestListSumTellsErrors: a list that cannot be read again has no checksum.
func TestListSumTellsErrors(t *testing.T) {
	s := newListSum()
	_, _ = s.Write([]byte("text"))
	if err := s.again(otherPieces{0: true}, unreadable{}); err != iotest.ErrTimeout {
		t.Errorf("got %v", err)
	}
}

type unreadable struct{}

func (unreadable) ReadAt([]byte, int64) (int, error) { return 0, iotest.ErrTimeout }

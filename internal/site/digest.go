package site

import (
	"crypto/sha256"
	"encoding/binary"

	"github.com/fxamacker/cbor/v2"
)

// digestOf stands for texts in their order. Each is told apart from the next by its
// length.
func digestOf(texts ...string) Digest {
	long := 0
	for _, text := range texts {
		long += 8 + len(text)
	}
	var whole []byte
	if long > fewBytes {
		whole = make([]byte, 0, long)
	} else {
		var few [fewBytes]byte // on the stack: of most trials there is little
		whole = few[:0]
	}
	for _, text := range texts {
		whole = append(binary.LittleEndian.AppendUint64(whole, uint64(len(text))), text...)
	}
	sum := sha256.Sum256(whole)
	return Digest(sum[:])
}

const fewBytes = 1024

// text is the digest as one of the texts of another.
func (d Digest) text() string { return string(d[:]) }

// codec writes values for another run. Equal values give equal bytes: maps are written in
// the order of their keys (RFC 8949, section 4.2).
type codec struct {
	write cbor.EncMode
	read  cbor.DecMode
}

func newCodec() (codec, error) {
	write, err := cbor.CoreDetEncOptions().EncMode()
	if err != nil {
		return codec{}, err
	}
	read, err := cbor.DecOptions{MaxArrayElements: 1 << 24, MaxNestedLevels: 16}.DecMode()
	return codec{write, read}, err
}

package site

import (
	"compress/flate"
	"encoding/binary"
	"io"
	"slices"
	"strings"
	"sync"
)

// packing makes the parts of cards smaller, of which there are many while a large kitchen
// is published: some three times, for what trials say is much the same (measured). Its
// writers and readers are large themselves, and used again.
type packing struct {
	writers, readers sync.Pool
}

// mostUnpacked is the largest part, in bytes.
const mostUnpacked = 64 << 20

func (p *packing) pack(text string) string {
	var small strings.Builder
	small.Write(binary.AppendUvarint(nil, uint64(len(text))))
	w, _ := p.writers.Get().(*flate.Writer)
	if w == nil {
		w, _ = flate.NewWriter(nil, flate.BestSpeed) // the level is one that there is
	}
	defer p.writers.Put(w)
	w.Reset(&small)
	_, _ = io.WriteString(w, text) // a builder takes everything
	_ = w.Close()
	return strings.Clone(small.String()) // without room to grow
}

// unpacking is a reader, with room for what it reads.
type unpacking struct {
	reader io.ReadCloser
	room   []byte
}

// mostTimes is how many times as large as what is packed a text can be: the code of a
// repetition, of 258 bytes at most, has two bits at least (RFC 1951, section 3.2.5), to which
// the blocks and the length come.
const mostTimes = 258 * 8 / 2

// unpack is false where the data is not what pack made.
func (p *packing) unpack(small string) (text string, ok bool) {
	size, n := binary.Uvarint([]byte(small[:min(len(small), binary.MaxVarintLen64)]))
	if n <= 0 || size > mostUnpacked || size > uint64(mostTimes*len(small)) {
		return "", false
	}
	u, _ := p.readers.Get().(*unpacking)
	if u == nil {
		u = &unpacking{reader: flate.NewReader(strings.NewReader(""))}
	}
	defer p.readers.Put(u)
	if err := u.reader.(flate.Resetter).Reset(strings.NewReader(small[n:]), nil); err != nil {
		return "", false
	}
	u.room = slices.Grow(u.room[:0], int(size)+1)[:size]
	if _, err := io.ReadFull(u.reader, u.room); err != nil {
		return "", false
	}
	if more, err := io.ReadFull(u.reader, u.room[size:size+1]); more > 0 || err != io.EOF {
		return "", false
	}
	return string(u.room), true
}

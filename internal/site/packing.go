package site

import (
	"compress/flate"
	"io"
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

func (p *packing) pack(data []byte) string {
	var small strings.Builder
	w, _ := p.writers.Get().(*flate.Writer)
	if w == nil {
		w, _ = flate.NewWriter(nil, flate.BestSpeed) // the level is one that there is
	}
	defer p.writers.Put(w)
	w.Reset(&small)
	_, _ = w.Write(data) // a buffer takes everything
	_ = w.Close()
	return strings.Clone(small.String()) // without room to grow
}

// unpack returns nil where the data is not what pack made.
func (p *packing) unpack(small string) []byte {
	r, _ := p.readers.Get().(io.ReadCloser)
	if r == nil {
		r = flate.NewReader(strings.NewReader(""))
	}
	defer p.readers.Put(r)
	if err := r.(flate.Resetter).Reset(strings.NewReader(small), nil); err != nil {
		return nil
	}
	data, err := io.ReadAll(io.LimitReader(r, mostUnpacked+1))
	if err != nil || len(data) > mostUnpacked {
		return nil
	}
	return data
}

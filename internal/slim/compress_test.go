package slim

import (
	"bytes"
	"compress/gzip"
	"io"
	"testing"

	"github.com/andybalholm/brotli"
	"pgregory.net/rapid"
)

// What is compressed unpacks to what it was, and comes out the same twice.
func TestCompress(t *testing.T) {
	codecs := []struct {
		name   string
		pack   func([]byte) ([]byte, error)
		unpack func(io.Reader) (io.Reader, error)
	}{
		{"gzip", Gzip, func(r io.Reader) (io.Reader, error) { return gzip.NewReader(r) }},
		{"brotli", Brotli, func(r io.Reader) (io.Reader, error) { return brotli.NewReader(r), nil }},
	}
	for _, codec := range codecs {
		t.Run(codec.name, rapid.MakeCheck(func(t *rapid.T) {
			piece := rapid.OneOf(rapid.SliceOfN(rapid.Byte(), 0, 300), rapid.Just([]byte(`<p class="number">17 of 24</p>`)))
			data := bytes.Join(rapid.SliceOfN(piece, 0, 200).Draw(t, "pieces"), nil)
			packed, err := codec.pack(data)
			if err != nil {
				t.Fatal(err)
			}
			again, err := codec.pack(bytes.Clone(data))
			if err != nil || !bytes.Equal(packed, again) {
				t.Fatalf("the second time it is other bytes (%v)", err)
			}
			r, err := codec.unpack(bytes.NewReader(packed))
			if err != nil {
				t.Fatal(err)
			}
			if back, err := io.ReadAll(r); err != nil || !bytes.Equal(back, data) {
				t.Fatalf("%d bytes come back of %d: %v", len(back), len(data), err)
			}
		}))
	}
}

// The header of a gzip file says nothing of when and where it was made (RFC 1952, 2.3.1).
func TestGzipHeader(t *testing.T) {
	packed, err := Gzip([]byte("x"))
	if err != nil {
		t.Fatal(err)
	}
	// ID1 ID2 CM FLG MTIME(4) XFL OS: no flags, no time, smallest, no known system.
	if want := []byte{0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 2, 255}; !bytes.Equal(packed[:10], want) {
		t.Errorf("% x, want % x", packed[:10], want)
	}
}

package cache

import (
	"encoding/binary"
	"hash/crc32"
	"io"
	"os"
	"strings"
	"sync"
)

// Blob is a blob that is read piece by piece. Several goroutines may use it.
type Blob struct {
	file io.ReaderAt
	top  int64 // where the data begins
	size int
	sums []byte

	mutex  sync.Mutex
	blocks map[int]string // that were read
}

// openBlob reads everything but the data.
func openBlob(file *os.File, name string) (*Blob, error) {
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	return blobIn(file, name, info.Size())
}

func blobIn(file io.ReaderAt, name string, length int64) (*Blob, error) {
	top := head(name, 0)
	if _, err := file.ReadAt(top, 0); err != nil {
		return nil, err
	}
	size, err := sizeIn(top, name, length)
	if err != nil {
		return nil, err
	}
	rest := make([]byte, overhead(size, name)-int64(len(top)))
	if _, err := file.ReadAt(rest, int64(len(top)+size)); err != nil {
		return nil, err
	}
	sums, seal := rest[:len(rest)-4], rest[len(rest)-4:]
	if sealOf(top, sums) != binary.LittleEndian.Uint32(seal) {
		return nil, errBlob
	}
	return &Blob{file: file, top: int64(len(top)), size: size, sums: sums, blocks: map[int]string{}}, nil
}

// Size is the length of the data in bytes.
func (b *Blob) Size() int { return b.size }

// Text returns the data from one byte up to before another. It is false where that is not
// what was written, or past the end.
func (b *Blob) Text(from, to int) (string, bool) {
	if from < 0 || to < from || to > b.size {
		return "", false
	}
	b.mutex.Lock()
	defer b.mutex.Unlock()
	var text strings.Builder
	for from < to {
		n := from / block
		whole, ok := b.block(n)
		if !ok {
			return "", false
		}
		piece := whole[from-n*block : min(len(whole), to-n*block)]
		if text.Len() == 0 && len(piece) == to-from {
			return piece, true
		}
		text.WriteString(piece)
		from += len(piece)
	}
	return text.String(), true
}

// block reads block n.
func (b *Blob) block(n int) (string, bool) {
	if whole, ok := b.blocks[n]; ok {
		return whole, true
	}
	data := make([]byte, min(block, b.size-n*block))
	if _, err := b.file.ReadAt(data, b.top+int64(n)*block); err != nil {
		return "", false
	}
	if crc32.Checksum(data, crc32.MakeTable(crc32.Castagnoli)) != binary.LittleEndian.Uint32(b.sums[4*n:]) {
		return "", false
	}
	b.blocks[n] = string(data)
	return b.blocks[n], true
}

// Close lets go of the file.
func (b *Blob) Close() error {
	if file, ok := b.file.(io.Closer); ok {
		return file.Close()
	}
	return nil
}

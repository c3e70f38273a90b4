package cache

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"strings"
)

// A blob in its file, all numbers little-endian:
//
//	head   "sidebatch cache 1\n", the name, a line feed, the size of data in 8 bytes
//	data
//	sums   CRC-32C of each block of 64 kB of data, the last one shorter; 4 bytes each
//	seal   CRC-32C of head and sums; 4 bytes
const (
	magic = "sidebatch cache 1\n"
	block = 64 << 10

	// atOnce is how much is read at a time, for memory that was not used before is slow.
	atOnce = 16 << 10
)

func head(name string, size int) []byte {
	return binary.LittleEndian.AppendUint64([]byte(magic+name+"\n"), uint64(size))
}

// overhead is how much longer the file is than the data.
func overhead(size int, name string) int64 {
	blocks := (size + block - 1) / block
	return int64(len(head(name, 0)) + 4*blocks + 4)
}

// wrap writes a blob as unwrap reads it, made of parts one after the other. It goes block by
// block: blobs are large, and memory that was not used before is slow.
func wrap(w io.Writer, name string, parts []string) error {
	size := 0
	for _, p := range parts {
		size += len(p)
	}
	top := head(name, size)
	if _, err := w.Write(top); err != nil {
		return err
	}
	table := crc32.MakeTable(crc32.Castagnoli)
	var sums []byte
	now := make([]byte, 0, block)
	end := func() error {
		sums = binary.LittleEndian.AppendUint32(sums, crc32.Checksum(now, table))
		_, err := w.Write(now)
		now = now[:0]
		return err
	}
	for _, p := range parts {
		for p != "" {
			n := min(len(p), block-len(now))
			now, p = append(now, p[:n]...), p[n:]
			if len(now) < block {
				continue
			}
			if err := end(); err != nil {
				return err
			}
		}
	}
	if len(now) > 0 {
		if err := end(); err != nil {
			return err
		}
	}
	_, err := w.Write(binary.LittleEndian.AppendUint32(sums, sealOf(top, sums)))
	return err
}

func sealOf(top, sums []byte) uint32 {
	table := crc32.MakeTable(crc32.Castagnoli)
	return crc32.Update(crc32.Checksum(top, table), table, sums)
}

// sizeIn returns the size of the data of a blob with that head, in a file of that length.
func sizeIn(top []byte, name string, length int64) (int, error) {
	size := binary.LittleEndian.Uint64(top[len(top)-8:])
	if size > most || length != int64(size)+overhead(int(size), name) || string(top) != string(head(name, int(size))) {
		return 0, errBlob
	}
	return int(size), nil
}

var errBlob = errors.New("no such blob")

// unwrap reads the data of a blob from a file of that length, if it holds all of it and
// nothing else.
func unwrap(r io.Reader, name string, length int64) (string, error) {
	top := head(name, 0)
	if _, err := io.ReadFull(r, top); err != nil {
		return "", err
	}
	size, err := sizeIn(top, name, length)
	if err != nil {
		return "", err
	}
	table := crc32.MakeTable(crc32.Castagnoli)
	var data strings.Builder
	data.Grow(size)
	var sums []byte
	sum, now := uint32(0), make([]byte, min(size, atOnce))
	for data.Len() < size {
		n := min(size, (data.Len()/block+1)*block) - data.Len() // left of the block
		now = now[:min(n, atOnce)]
		if _, err := io.ReadFull(r, now); err != nil {
			return "", err
		}
		data.Write(now)
		if sum = crc32.Update(sum, table, now); len(now) == n {
			sums, sum = binary.LittleEndian.AppendUint32(sums, sum), 0
		}
	}
	want := string(binary.LittleEndian.AppendUint32(sums, sealOf(top, sums)))
	rest := make([]byte, len(want))
	if _, err := io.ReadFull(r, rest); err != nil || string(rest) != want {
		return "", errBlob
	}
	return data.String(), nil
}

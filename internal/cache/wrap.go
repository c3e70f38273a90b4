package cache

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"io"
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
)

func head(name string, size int) []byte {
	return binary.LittleEndian.AppendUint64([]byte(magic+name+"\n"), uint64(size))
}

// overhead is how much longer the file is than the data.
func overhead(size int, name string) int64 {
	blocks := (size + block - 1) / block
	return int64(len(magic) + len(name) + 1 + 8 + 4*blocks + 4)
}

// wrap writes a blob as unwrap reads it.
func wrap(w io.Writer, name string, parts [][]byte) error {
	size := 0
	for _, p := range parts {
		size += len(p)
	}
	top := head(name, size)
	if _, err := w.Write(top); err != nil {
		return err
	}
	s := summer{table: crc32.MakeTable(crc32.Castagnoli)}
	for _, p := range parts {
		s.add(p)
		if _, err := w.Write(p); err != nil {
			return err
		}
	}
	sums := s.end()
	seal := crc32.Update(crc32.Checksum(top, s.table), s.table, sums)
	_, err := w.Write(binary.LittleEndian.AppendUint32(sums, seal))
	return err
}

// summer sums blocks that need not begin where a part does.
type summer struct {
	table *crc32.Table
	sums  []byte
	now   uint32 // of the block that is not full yet
	full  int    // bytes in it
}

func (s *summer) add(p []byte) {
	for len(p) > 0 {
		n := min(len(p), block-s.full)
		s.now = crc32.Update(s.now, s.table, p[:n])
		s.full += n
		p = p[n:]
		if s.full == block {
			s.end()
		}
	}
}

// end closes the block and returns the sums so far.
func (s *summer) end() []byte {
	if s.full > 0 {
		s.sums = binary.LittleEndian.AppendUint32(s.sums, s.now)
		s.now, s.full = 0, 0
	}
	return s.sums
}

// unwrap returns the data of a blob, if the file holds all of it and nothing else.
func unwrap(name string, file []byte) (data []byte, ok bool) {
	top := len(magic) + len(name) + 1 + 8
	if len(file) < top {
		return nil, false
	}
	size := binary.LittleEndian.Uint64(file[top-8:])
	if size > most || int64(len(file)) != int64(size)+overhead(int(size), name) || !bytes.Equal(file[:top], head(name, int(size))) {
		return nil, false
	}
	data, rest := file[top:top+int(size):top+int(size)], file[top+int(size):]
	s := summer{table: crc32.MakeTable(crc32.Castagnoli)}
	s.add(data)
	sums := s.end()
	seal := crc32.Update(crc32.Checksum(file[:top], s.table), s.table, sums)
	return data, bytes.Equal(rest, binary.LittleEndian.AppendUint32(sums, seal))
}

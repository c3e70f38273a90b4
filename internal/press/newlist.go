package press

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"os"
	"strconv"
)

// newList is the list of the new site in the making. It is staged while outputs are made and
// inspected, as far as it is known what it says: that of a large site takes as long as many
// pages.
type newList struct {
	made chan bool
	done chan struct{}

	sum     digest   // of its text
	changes []change // none where the list stays as it is
	err     error
}

// startList begins with the list, whose file has a number that no output has. It must be told
// what became of the outputs, and be waited for.
func (f *folder) startList(h *holding) *newList {
	l := &newList{made: make(chan bool, 1), done: make(chan struct{})}
	go func() {
		defer close(l.done)
		if err := f.stageList(l, h, h.len()+len(h.stale)); err != nil {
			l.err = fmt.Errorf("%s/%s: %w", f.out, listName, bare(err))
		}
	}()
	return l
}

// tell says whether all outputs were made.
func (l *newList) tell(made bool) { l.made <- made }

func (l *newList) wait() { <-l.done }

func (f *folder) stageList(l *newList, h *holding, number int) error {
	text := &stagedText{folder: f, name: newDir + "/" + strconv.Itoa(number)}
	defer text.drop()
	next := 0
	if len(h.todo) > 0 {
		if next = h.todo[0]; next > 0 {
			if err := text.add(h, 0, next); err != nil {
				return err
			}
		}
	}
	if !<-l.made {
		return nil
	}
	if h.owned.asIs && h.sameFiles() {
		l.sum = h.owned.sum
		return nil
	}
	err := text.add(h, next, h.len())
	if err == nil {
		l.sum, err = text.end()
	}
	l.changes = []change{{put, number, h.owned.sum, listName}}
	return err
}

// sameFiles tells whether the list names these outputs, with these checksums, and no
// others.
func (h *holding) sameFiles() bool {
	if h.gone || h.owned.len() != h.len() {
		return false
	}
	for _, r := range h.results {
		if h.listed[r.number] < 0 || h.sumOf(r.number) != r.sum {
			return false
		}
	}
	return true
}

// stagedText is a list that is being staged.
type stagedText struct {
	folder *folder
	name   string
	file   *os.File // once there is something to write
	sum    hash.Hash
}

// add writes the lines of outputs, from that one up to before another.
func (t *stagedText) add(h *holding, from, to int) error {
	if t.file == nil {
		staging, err := t.folder.stage()
		if err == nil {
			t.file, err = staging.OpenFile(t.name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		}
		if err != nil {
			return err
		}
		t.sum = sha256.New()
		if _, err := io.WriteString(io.MultiWriter(t.file, t.sum), listHead); err != nil {
			return err
		}
	}
	lines := linesTo(io.MultiWriter(t.file, t.sum))
	for i := from; i < to; i++ {
		if err := lines.add(h.path(i), h.sumNow(i)); err != nil {
			return err
		}
	}
	return lines.flush()
}

// end sees the file to the disk.
func (t *stagedText) end() (digest, error) {
	_, err := flush(t.file)
	t.file = nil
	return digest(t.sum.Sum(nil)), err
}

// drop lets go of a file that did not come to its end, in a staging folder that is of no more
// use.
func (t *stagedText) drop() {
	if t.file != nil {
		_ = t.file.Close()
	}
}

// listLines writes lines of a list, many at a time: the whole of a large one is never in
// memory.
type listLines struct {
	to    io.Writer
	piece []byte
}

// pieceSize is how much is written at a time, in bytes.
const pieceSize = 64 << 10

func linesTo(w io.Writer) *listLines { return &listLines{w, make([]byte, 0, pieceSize)} }

func (l *listLines) add(path string, sum digest) error {
	l.piece = append(append(hex.AppendEncode(l.piece, sum[:]), "  "...), path...)
	l.piece = append(l.piece, '\n')
	if len(l.piece) < pieceSize/2 {
		return nil
	}
	return l.flush()
}

func (l *listLines) flush() error {
	_, err := l.to.Write(l.piece)
	l.piece = l.piece[:0]
	return err
}

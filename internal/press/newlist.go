package press

import (
	"encoding/hex"
	"fmt"
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
	few := len(h.todo) > 0 && len(h.todo) < h.len()/8
	if few { // then nearly all of it is known, and can be on the disk when they are made
		if err := text.draft(h); err != nil {
			return err
		}
	}
	if !<-l.made {
		return nil
	}
	if h.owned.asIs && h.sameFiles() {
		l.sum = h.owned.sum
		return nil
	}
	var err error
	if few {
		l.sum, err = text.correct(h)
	} else {
		l.sum, err = text.whole(h)
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
	file   *os.File // once there is something to write, and until all is
	sum    *listSum // of what was written
}

func (t *stagedText) open() error {
	staging, err := t.folder.stage()
	if err == nil {
		t.file, err = staging.OpenFile(t.name, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o644)
	}
	t.sum = newListSum()
	return err
}

func (t *stagedText) Write(text []byte) (int, error) {
	_, _ = t.sum.Write(text) // it takes everything
	return t.file.Write(text)
}

// whole writes the list when all outputs are made, and sees it to the disk.
func (t *stagedText) whole(h *holding) (digest, error) {
	if err := t.open(); err != nil {
		return digest{}, err
	}
	if err := writeList(t, h.len(), h.path, h.sumNow); err != nil {
		return digest{}, err
	}
	return t.sum.sum(), t.flush()
}

// draft writes the list as if the outputs were what they were before, and sees it to the disk
// as it is.
func (t *stagedText) draft(h *holding) error {
	if err := t.open(); err != nil {
		return err
	}
	if err := writeList(t, h.len(), h.path, h.sumBefore); err != nil {
		return err
	}
	return ignoreUnsupported(t.file.Sync())
}

// correct puts the checksums of the outputs into a draft.
func (t *stagedText) correct(h *holding) (digest, error) {
	others := otherPieces{}
	for _, r := range h.results {
		if r.sum == h.sumBefore(r.number) {
			continue
		}
		at := int64(len(listHead) + r.number*(sumWidth+len("\n")) + h.begin(r.number)) // what is before it
		if _, err := t.file.WriteAt(hex.AppendEncode(nil, r.sum[:]), at); err != nil {
			return digest{}, err
		}
		others.add(at, hex.EncodedLen(len(r.sum)))
	}
	if err := t.sum.again(others, t.file); err != nil {
		return digest{}, err
	}
	return t.sum.sum(), t.flush()
}

// flush sees the file to the disk, and closes it.
func (t *stagedText) flush() error {
	file := t.file
	t.file = nil
	_, err := flush(file)
	return err
}

// drop lets go of a file that did not come to its end, in a staging folder that is of no more
// use.
func (t *stagedText) drop() {
	if t.file != nil {
		_ = t.file.Close()
	}
}

// pieceSize is how much of a list is written at a time, in bytes: the whole of a large one is
// never in memory.
const pieceSize = 64 << 10

// writeList writes the list of n files.
func writeList(to io.Writer, n int, path func(i int) string, sum func(i int) digest) error {
	piece := append(make([]byte, 0, pieceSize), listHead...)
	for i := range n {
		if piece = appendLine(piece, path(i), sum(i)); len(piece) < pieceSize/2 {
			continue
		}
		if _, err := to.Write(piece); err != nil {
			return err
		}
		piece = piece[:0]
	}
	_, err := to.Write(piece)
	return err
}

func appendLine(text []byte, path string, sum digest) []byte {
	return append(append(append(hex.AppendEncode(text, sum[:]), "  "...), path...), '\n')
}

package site

import (
	"path"
	"slices"
	"sync"

	"sidebatch.example/sidebatch/internal/slim"
)

// Compressed adds to every text file of a plan the same file compressed, as FILE.br and
// FILE.gz, in the same lot, for hosts that send such files where a browser takes them. Which files are
// compressed goes by the ending of the name alone, for how large a file will be is not
// known when it is planned; a few very small ones come out larger.
//
// A file is made once for the three, as long as they are asked for about the same time.
func Compressed(lots []Lot) []Lot {
	lately := &lately{}
	all := make([]Lot, len(lots))
	for i, lot := range lots {
		all[i] = Lot{At: lot.At, From: CompressedAll(lot.From), List: func() []Output { return lately.withCompressed(lot.List()) }}
	}
	return all
}

// withCompressed is the files of a lot, each with those that are compressed from it.
func (l *lately) withCompressed(outputs []Output) []Output {
	all := make([]Output, 0, takers*len(outputs))
	for _, o := range outputs {
		if !isText(o.Path) {
			all = append(all, o)
			continue
		}
		once := Output{Path: o.Path, From: o.From, Make: func() ([]byte, error) { return l.make(o) }}
		all = append(all, once, compressed(once, ".br", slim.Brotli), compressed(once, ".gz", slim.Gzip))
	}
	slices.SortFunc(all, byPath)
	return all
}

// CompressedAll stands for outputs with those that are compressed from them, where one digest
// stands for the outputs.
func CompressedAll(of Digest) Digest {
	if of == (Digest{}) {
		return of
	}
	return digestOf(of.text(), "compressed")
}

// compressed is the output that a codec makes of another one.
func compressed(o Output, ending string, pack func([]byte) ([]byte, error)) Output {
	packed := Output{Path: o.Path + ending, Make: func() ([]byte, error) {
		data, err := o.Make()
		if err != nil {
			return nil, err
		}
		return pack(data)
	}}
	if o.From != (Digest{}) {
		packed.From = digestOf(o.From.text(), ending) // how it is packed is the program's own, which is in From
	}
	return packed
}

// isText reports whether a file is text, which becomes a fraction of its size; pictures
// are compressed already.
func isText(name string) bool {
	return slices.Contains([]string{
		".html", ".css", ".js", ".svg", ".json", ".webmanifest", ".csv", ".xml", ".txt", ".md",
	}, path.Ext(name))
}

// lately keeps files that were made until each of the three has had them: the file itself
// and what is compressed from it. It keeps few against a site, and more than are worked on
// at the same time. What it has let go is made again.
type lately struct {
	mutex sync.Mutex
	files []lateFile // the newest last
}

type lateFile struct {
	path string
	make func() ([]byte, error)
	had  int // how often it was asked for
}

const (
	mostLately = 32
	takers     = 3
)

// make makes an output, once however many ask for it while it is kept.
func (l *lately) make(o Output) ([]byte, error) { return l.file(o)() }

func (l *lately) file(o Output) func() ([]byte, error) {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	at := slices.IndexFunc(l.files, func(f lateFile) bool { return f.path == o.Path })
	if at < 0 {
		if len(l.files) == mostLately {
			l.files = slices.Delete(l.files, 0, 1)
		}
		at = len(l.files)
		l.files = append(l.files, lateFile{path: o.Path, make: sync.OnceValues(o.Make)})
	}
	file := &l.files[at]
	once := file.make
	if file.had++; file.had == takers {
		l.files = slices.Delete(l.files, at, at+1)
	}
	return once
}

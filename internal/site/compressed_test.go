package site

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"path"
	"slices"
	"sync"
	"sync/atomic"
	"testing"

	"sidebatch.example/sidebatch/internal/slim"
)

// Every text file has its two neighbours, compressed from its bytes; nothing else has.
func TestCompressed(t *testing.T) {
	texts := []string{"a/index.html", "assets/styles-0.css", "assets/archive-0.js", "a/figures/x.svg", "a/data/results.json",
		"a/data/pieces.csv", "feed.xml", "robots.txt", "a/data/trial.md", "a/counter.webmanifest"}
	others := []string{"a/photos/x.jpg", "a/photos/x.png", "share.png", "a/data/book.xlsx", "assets/letters.woff2"}
	var outputs []Output
	want := map[string]string{}
	for _, name := range slices.Concat(texts, others) {
		outputs = append(outputs, Output{Path: name, Make: func() ([]byte, error) { return []byte("this is " + name), nil }})
		want[name] = ""
	}
	for _, name := range texts {
		want[name+".gz"], want[name+".br"] = name, name
	}
	all := All(Compressed(Lots(outputs)))
	if len(all) != len(want) {
		t.Errorf("%d files, want %d", len(all), len(want))
	}
	for _, o := range all {
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		from, known := want[o.Path]
		if !known {
			t.Errorf("%s should not be", o.Path)
			continue
		}
		expected, err := []byte("this is "+cmp.Or(from, o.Path)), error(nil)
		switch path.Ext(o.Path) {
		case ".gz":
			expected, err = slim.Gzip(expected)
		case ".br":
			expected, err = slim.Brotli(expected)
		}
		if err != nil || !bytes.Equal(data, expected) {
			t.Errorf("%s: %q, want %q (%v)", o.Path, data, expected, err)
		}
	}
}

// A file is made once for the three, however they are asked for, nothing is kept when
// they have had it, and asked for again it is made again.
func TestCompressedMakesOnce(t *testing.T) {
	const files = 500
	var made [files]atomic.Int64
	var outputs []Output
	for i := range files {
		outputs = append(outputs, Output{Path: fmt.Sprintf("%03d/index.html", i), Make: func() ([]byte, error) {
			made[i].Add(1)
			return []byte("page"), nil
		}})
	}
	all := All(Compressed(Lots(outputs)))
	for run := int64(1); run <= 2; run++ {
		for three := range slices.Chunk(all, takers) {
			var together sync.WaitGroup
			for _, o := range three {
				together.Go(func() { _, _ = o.Make() })
			}
			together.Wait()
		}
		for i := range made {
			if n := made[i].Load(); n != run {
				t.Fatalf("file %d was made %d times in %d runs", i, n, run)
			}
		}
	}
	// However many are begun and never ended, few are kept, and all are right.
	l := &lately{}
	for _, o := range outputs {
		if data, err := l.make(o); err != nil || string(data) != "page" {
			t.Fatal(string(data), err)
		}
	}
	if len(l.files) != mostLately {
		t.Errorf("%d files are kept", len(l.files))
	}
}

// A file that cannot be made has no compressed neighbours either, for the same reason.
func TestCompressedErrors(t *testing.T) {
	wrong := errors.New("the oven is off")
	for _, o := range All(Compressed(Lots([]Output{{Path: "x.html", Make: func() ([]byte, error) { return nil, wrong }}}))) {
		if data, err := o.Make(); !errors.Is(err, wrong) || data != nil {
			t.Errorf("%s: %q %v", o.Path, data, err)
		}
	}
}

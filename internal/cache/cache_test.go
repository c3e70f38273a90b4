package cache

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestWriteThenRead(t *testing.T) {
	c := At(filepath.Join(t.TempDir(), "kept"))
	if _, ok := c.Read("a"); ok {
		t.Fatal("read from a folder that is not there")
	}
	long := strings.Repeat("0123456789abcdef", 3*block/16)
	for _, parts := range [][]string{nil, {""}, {"\x01"}, {"one", "", "two"}, {long}, {long[:block]}, {long[:block-1]},
		{long[:block-1], long[:2]}, {long[:5], long, long[:block+1]}} {
		if err := c.Write("a", parts...); err != nil {
			t.Fatal(err)
		}
		got, at, ok := c.ReadDated("a")
		if !ok || got != strings.Join(parts, "") {
			t.Errorf("%d parts: read %d bytes, %v", len(parts), len(got), ok)
		}
		if info, err := os.Stat(filepath.Join(c.dir, "a.blob")); err != nil || !info.ModTime().Equal(at) {
			t.Errorf("dated %v, %v", at, err)
		}
	}
	if entries, err := os.ReadDir(c.dir); err != nil || len(entries) != 1 {
		t.Errorf("the folder holds %v, %v", entries, err)
	}
}

// TestDamaged: a file cut short anywhere, longer, or with any bit turned reads as not there.
func TestDamaged(t *testing.T) {
	c := At(t.TempDir())
	if err := c.Write("a", "some words that are kept"); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(c.dir, "a.blob")
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	try := func(what string, at int, damaged []byte) {
		t.Helper()
		if err := os.WriteFile(file, damaged, 0o644); err != nil {
			t.Fatal(err)
		}
		if got, ok := c.Read("a"); ok || got != "" {
			t.Errorf("%s at %d: read %q", what, at, got)
		}
	}
	for n := range whole {
		try("cut", n, whole[:n])
		for bit := range 8 {
			turned := bytes.Clone(whole)
			turned[n] ^= 1 << bit
			try("turned", n, turned)
		}
	}
	try("longer", 0, append(bytes.Clone(whole), 0))
	try("newer", 0, bytes.Replace(whole, []byte("cache 1"), []byte("cache 2"), 1))
	if err := os.WriteFile(filepath.Join(c.dir, "b.blob"), whole, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, ok := c.Read("b"); ok {
		t.Error("read under another name")
	}
}

// TestOpen: pieces of a blob are those of the whole, and of one that was damaged those that
// are in sound blocks.
func TestOpen(t *testing.T) {
	c := At(t.TempDir())
	if _, ok := c.Open("a"); ok {
		t.Error("opened what is not there")
	}
	whole := strings.Repeat("some words that are kept, ", 3*block/26)
	if err := c.Write("a", whole[:7], whole[7:]); err != nil {
		t.Fatal(err)
	}
	ends := []int{0, 1, 100, block - 1, block, block + 1, 2 * block, 2*block + 5, len(whole)}
	try := func(damaged func(n int) bool) {
		t.Helper()
		b, ok := c.Open("a")
		if !ok {
			t.Fatal("not opened")
		}
		defer b.Close()
		for _, from := range ends {
			for _, to := range ends {
				sound := from <= to
				for n := from / block; sound && n*block < to; n++ {
					sound = from == to || !damaged(n)
				}
				got, ok := b.Text(from, to)
				if ok != sound || ok && got != whole[from:to] {
					t.Errorf("from %d to %d: %v, %d bytes", from, to, ok, len(got))
				}
			}
		}
		if _, ok := b.Text(0, len(whole)+1); ok {
			t.Error("read past the end")
		}
	}
	try(func(int) bool { return false })
	file := filepath.Join(c.dir, "a.blob")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	data[block+block/2] ^= 1
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	try(func(n int) bool { return n == 1 })
	data[len(data)-5] ^= 1
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, ok := c.Open("a"); ok {
		t.Error("opened with a wrong sum")
	}
}

// TestBlocksMixed: blocks of two blobs of the same name and size do not make a third.
func TestBlocksMixed(t *testing.T) {
	c := At(t.TempDir())
	file := filepath.Join(c.dir, "a.blob")
	var files [2][]byte
	for i := range files {
		if err := c.Write("a", strings.Repeat(string(rune(i)), 2*block)); err != nil {
			t.Fatal(err)
		}
		files[i], _ = os.ReadFile(file)
	}
	top := len(head("a", 0))
	copy(files[0][top:top+block], files[1][top:])
	if err := os.WriteFile(file, files[0], 0o644); err != nil {
		t.Fatal(err)
	}
	if _, ok := c.Read("a"); ok {
		t.Error("read")
	}
}

func TestNamesAndSizes(t *testing.T) {
	c := At(t.TempDir())
	for _, name := range []string{"", ".", "..", "a/b", "../a", "A", "a.b", "é", strings.Repeat("a", 65)} {
		if err := c.Write(name); err == nil {
			t.Errorf("%q was taken", name)
		}
		if _, ok := c.Read(name); ok {
			t.Errorf("%q was read", name)
		}
	}
	half := strings.Repeat("x", most/2+1)
	if err := c.Write("a", half, half); err == nil || !strings.Contains(err.Error(), "too large") {
		t.Errorf("too much: %v", err)
	}
	if err := At("").Write("a"); err == nil {
		t.Error("written nowhere")
	}
	if _, ok := (Cache{}).Read("a"); ok {
		t.Error("read from nowhere")
	}
}

// TestOthersStay: what lies in the folder under other names, links and folders are neither
// followed nor replaced nor removed.
func TestOthersStay(t *testing.T) {
	top := t.TempDir()
	outside := filepath.Join(top, "outside")
	if err := os.WriteFile(outside, []byte("theirs"), 0o644); err != nil {
		t.Fatal(err)
	}
	c := At(filepath.Join(top, "kept"))
	if err := c.Write("a", "kept"); err != nil {
		t.Fatal(err)
	}
	for name, to := range map[string]string{"b.blob": outside, "c.part": outside, "d.blob": "a.blob"} {
		if err := os.Symlink(to, filepath.Join(c.dir, name)); err != nil {
			t.Skip(err)
		}
	}
	if err := os.Mkdir(filepath.Join(c.dir, "e.blob"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"mine.txt", "A.blob", ".blob", "a.part.blob", "plain"} {
		if err := os.WriteFile(filepath.Join(c.dir, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"b", "c", "d", "e"} {
		if err := c.Write(name, "x"); err == nil {
			t.Errorf("%s: written over what is not ours", name)
		}
		if _, ok := c.Read(name); ok {
			t.Errorf("%s: read", name)
		}
	}
	if err := c.Forget(); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(c.dir)
	if err != nil || len(entries) != 9 {
		t.Errorf("left: %v, %v", entries, err)
	}
	if text, err := os.ReadFile(outside); err != nil || string(text) != "theirs" {
		t.Errorf("outside: %q, %v", text, err)
	}
}

// TestTheFolderIsALink: a link in the place of the folder is left alone.
func TestTheFolderIsALink(t *testing.T) {
	top := t.TempDir()
	real := At(filepath.Join(top, "real"))
	if err := real.Write("a", "x"); err != nil {
		t.Fatal(err)
	}
	link := At(filepath.Join(top, "link"))
	if err := os.Symlink(real.dir, link.dir); err != nil {
		t.Skip(err)
	}
	if _, ok := link.Read("a"); ok {
		t.Error("read through a link")
	}
	if link.Write("b") == nil || link.Forget() == nil {
		t.Error("wrote through a link")
	}
	if _, ok := real.Read("a"); !ok {
		t.Error("gone")
	}
}

func TestForget(t *testing.T) {
	c := At(filepath.Join(t.TempDir(), "kept"))
	if err := c.Forget(); err != nil {
		t.Fatal("forgetting nothing:", err)
	}
	for _, name := range []string{"a", "b-2"} {
		if err := c.Write(name, "x"); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(c.dir, "c.part"), []byte("half"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := c.Forget(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(c.dir); !os.IsNotExist(err) {
		t.Errorf("the folder is there: %v", err)
	}
}

// TestLeftover: a blob half written by a run that was killed is not read, and is replaced.
func TestLeftover(t *testing.T) {
	c := At(t.TempDir())
	if err := os.WriteFile(filepath.Join(c.dir, "a.part"), []byte("half"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := c.Write("a", "whole"); err != nil {
		t.Fatal(err)
	}
	if got, ok := c.Read("a"); !ok || got != "whole" {
		t.Errorf("%q, %v", got, ok)
	}
	if entries, _ := os.ReadDir(c.dir); len(entries) != 1 {
		t.Errorf("left: %v", entries)
	}
}

// FuzzUnwrap: whatever a file holds, what is read from it is what would be written.
func FuzzUnwrap(f *testing.F) {
	for _, text := range []string{"", "x", strings.Repeat("long", block/3)} {
		var b bytes.Buffer
		if err := wrap(&b, "a", []string{text}); err != nil {
			f.Fatal(err)
		}
		f.Add("a", b.Bytes())
	}
	f.Add("", []byte(magic))
	f.Add("a", append(head("a", -1), 0, 0, 0, 0))
	f.Fuzz(func(t *testing.T, name string, file []byte) {
		data, err := unwrap(bytes.NewReader(file), name, int64(len(file)))
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := wrap(&b, name, []string{data}); err != nil || !bytes.Equal(b.Bytes(), file) {
			t.Errorf("written again it is another file (%v)", err)
		}
		if blob, err := blobIn(bytes.NewReader(file), name, int64(len(file))); err != nil {
			t.Errorf("it cannot be opened: %v", err)
		} else if text, ok := blob.Text(0, blob.Size()); !ok || text != data {
			t.Error("read in blocks it is another")
		}
	})
}

// BenchmarkRead is what it costs to read 20 MB, as a multiple of reading the plain file.
func BenchmarkRead(b *testing.B) {
	c := At(b.TempDir())
	if err := c.Write("a", strings.Repeat("\x00", 20<<20)); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(20 << 20)
	var plain time.Duration
	for b.Loop() {
		start := time.Now()
		if _, err := os.ReadFile(filepath.Join(c.dir, "a.blob")); err != nil {
			b.Fatal(err)
		}
		plain += time.Since(start)
		if _, ok := c.Read("a"); !ok {
			b.Fatal("not there")
		}
	}
	b.ReportMetric(float64(b.Elapsed()-plain)/float64(plain), "reads")
}

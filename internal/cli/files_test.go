package cli

import (
	"os"
	"path/filepath"
	"testing"
)

// Files are written all or none: what was made on the way, folders too, is taken back,
// and what stood there before stays.
func TestWriteNewTakesBack(t *testing.T) {
	dir := t.TempDir()
	blocked := filepath.Join(dir, "blocked")
	if err := os.WriteFile(blocked, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	err := writeNew([]newFile{
		{filepath.Join(dir, "new", "deep", "one.txt"), []byte("1")},
		{filepath.Join(dir, "new", "two.txt"), []byte("2")},
		{filepath.Join(blocked, "three.txt"), []byte("3")},
	})
	if err == nil {
		t.Fatal("a file was made below a file")
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 || left[0].Name() != "blocked" {
		t.Errorf("%v is left, %v", left, err)
	}
	if data, _ := os.ReadFile(blocked); string(data) != "mine" {
		t.Errorf("the file that stood there holds %q", data)
	}
}

func TestWriteNew(t *testing.T) {
	dir := t.TempDir()
	one := filepath.Join(dir, "a", "b", "one.txt")
	if err := writeNew([]newFile{{one, []byte("1")}}); err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(one); string(data) != "1" {
		t.Errorf("%q, %v", data, err)
	}
	if err := writeNew([]newFile{{filepath.Join(dir, "two.txt"), nil}, {one, []byte("2")}}); err == nil {
		t.Error("a file was written over")
	}
	if _, err := os.Lstat(filepath.Join(dir, "two.txt")); err == nil {
		t.Error("a file was written beside one that stands in the way")
	}
}

package press

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"sidebatch.example/sidebatch/internal/cache"
)

// smallDisk is a folder on a file system of its own, of so many kilobytes.
func smallDisk(t *testing.T, size int) string {
	t.Helper()
	at := t.TempDir()
	if err := syscall.Mount("tmpfs", at, "tmpfs", 0, fmt.Sprintf("size=%dk", size)); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(at, 0); err != nil {
			t.Error(err)
		}
	})
	return at
}

// edition is a site whose every file fills some blocks of a disk.
func edition(name string) files {
	all := files{}
	for i := range 24 {
		all[fmt.Sprintf("%d/%s/index.html", i%5, strconv.Itoa(i))] = strings.Repeat(name+" ", 900+200*i)
	}
	all[name+"/only-here"] = name
	return all
}

// TestFullDisk publishes with ever more room on the disk, until it is enough: before that
// the old site stands, and the message says what ails and what to do. With room, the same
// run succeeds. A cache that finds no room is no failure.
func TestFullDisk(t *testing.T) {
	disk := smallDisk(t, 1024)
	out, filler := filepath.Join(disk, "public"), filepath.Join(disk, "filler")
	keep := Options{Out: out, Cache: cache.At(CacheOf(out))}
	full := 0
	for free := int64(0); ; free += 12 << 10 {
		if _, err := publishAll(t.Context(), edition("old").outputs(), keep); err != nil {
			t.Fatal(err)
		}
		fill(t, filler, free)
		_, err := publishAll(t.Context(), edition("new").outputs(), keep)
		if err == nil {
			checkHeld(t, out, edition("new"))
			break
		}
		full++
		if n := strings.Count(err.Error(), "\n"); !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), diskIsFull) || n > 1 {
			t.Errorf("%d bytes free: %v", free, err)
		}
		checkHeld(t, out, edition("old"))
		if err := os.Remove(filler); err != nil {
			t.Fatal(err)
		}
		if _, err := publishAll(t.Context(), edition("new").outputs(), keep); err != nil {
			t.Fatal(err)
		}
		checkHeld(t, out, edition("new"))
	}
	if full < 8 {
		t.Errorf("the disk was full %d times: this shows little", full)
	}
}

func checkHeld(t *testing.T, out string, want files) {
	t.Helper()
	got := held(t, out)
	if len(got) != len(want) {
		t.Errorf("%d files, want %d", len(got), len(want))
	}
	for path, text := range want {
		if got[path] != text {
			t.Errorf("%s: %.20q, want %.20q", path, got[path], text)
		}
	}
}

// fill leaves about so many bytes free.
func fill(t *testing.T, at string, free int64) {
	t.Helper()
	var disk syscall.Statfs_t
	if err := syscall.Statfs(filepath.Dir(at), &disk); err != nil {
		t.Fatal(err)
	}
	if n := int64(disk.Bavail)*disk.Bsize - free; n > 0 {
		if err := os.WriteFile(at, bytes.Repeat([]byte("x"), int(n)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// TestReadOnlyDisk: nothing can be written, and it says so.
func TestReadOnlyDisk(t *testing.T) {
	disk := smallDisk(t, 1024)
	out := filepath.Join(disk, "public")
	mustRun(t, out, edition("old"))
	remount := func(flags uintptr) {
		t.Helper()
		if err := syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT|flags, ""); err != nil {
			t.Fatal(err)
		}
	}
	remount(syscall.MS_RDONLY)
	_, err := publishAll(t.Context(), edition("new").outputs(), Options{Out: out, Cache: cache.At(CacheOf(out))})
	if !errors.Is(err, syscall.EROFS) || !strings.Contains(err.Error(), mayNotWrite) || strings.Count(err.Error(), "\n") > 0 {
		t.Errorf("%v", err)
	}
	checkHeld(t, out, edition("old"))
	remount(0)
	mustRun(t, out, edition("new"))
	checkHeld(t, out, edition("new"))
}

// TestChildWithFewFiles publishes while no more than so many files may be open. On its own
// it does nothing.
func TestChildWithFewFiles(t *testing.T) {
	n, err := strconv.Atoi(os.Getenv(childIs + "_FILES"))
	if err != nil {
		t.Skip("runs only as a child of TestFewFiles")
	}
	// What the runtime opens once, and cannot do without, is open by now.
	r, w, err := os.Pipe()
	if err := errors.Join(err, r.Close(), w.Close()); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Setrlimit(syscall.RLIMIT_NOFILE, &syscall.Rlimit{Cur: uint64(n), Max: uint64(n)}); err != nil {
		t.Fatal(err)
	}
	out := os.Getenv(childIs + "_OUT")
	_, err = publishAll(t.Context(), edition("new").outputs(), Options{Out: out, Cache: cache.At(CacheOf(out))})
	if err != nil {
		fmt.Println(err)
		os.Exit(killed)
	}
}

// TestFewFiles publishes with ever more files that may be open, until they are enough.
func TestFewFiles(t *testing.T) {
	out := newFolder(t)
	mustRun(t, out, edition("old"))
	refused := 0
	for n := 4; ; n++ {
		cmd := exec.Command(os.Args[0], "-test.run=^TestChildWithFewFiles$")
		cmd.Env = append(os.Environ(), childIs+"_FILES="+strconv.Itoa(n), childIs+"_OUT="+out)
		said, err := cmd.CombinedOutput()
		if err == nil {
			checkHeld(t, out, edition("new"))
			break
		}
		refused++
		if exit := new(exec.ExitError); !errors.As(err, &exit) || exit.ExitCode() != killed || !strings.Contains(string(said), handlesGone) || n > 200 {
			t.Fatalf("%d open files: %v\n%s", n, err, said)
		}
		if got := held(t, out); got["old/only-here"] == "" || got["new/only-here"] != "" {
			t.Fatalf("%d open files: the old site is gone", n)
		}
	}
	if refused < 3 {
		t.Errorf("refused %d times: this shows little", refused)
	}
}

package site

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"
)

// TestStill: whatever is done to the folder of a trial, it is not taken for what it was; and
// nothing done, it is, where folders tell what came and went.
func TestStill(t *testing.T) {
	write := func(dir, name, text string) error {
		return os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644)
	}
	putBack := func(p string, do func() error) error {
		info, err := os.Stat(p)
		if err != nil {
			return err
		}
		if err := do(); err != nil {
			return err
		}
		return os.Chtimes(p, info.ModTime(), info.ModTime())
	}
	for name, do := range map[string]func(dir string) error{
		"nothing":        func(string) error { return nil },
		"a file more":    func(dir string) error { return write(dir, "more.csv", "") },
		"a file less":    func(dir string) error { return os.Remove(filepath.Join(dir, "log.csv")) },
		"a hidden file":  func(dir string) error { return write(dir, ".hidden", "") },
		"a folder more":  func(dir string) error { return os.Mkdir(filepath.Join(dir, "more"), 0o755) },
		"below a folder": func(dir string) error { return write(dir, "photos/more.jpg", "") },
		"another name": func(dir string) error {
			return os.Rename(filepath.Join(dir, "log.csv"), filepath.Join(dir, "lag.csv"))
		},
		"other words": func(dir string) error { return write(dir, "trial.md", "other words") },
		"other words of the same length, with the time put back": func(dir string) error {
			return putBack(filepath.Join(dir, "trial.md"), func() error { return write(dir, "trial.md", "drow") })
		},
		"a file more, with the folder's time put back": func(dir string) error {
			return putBack(dir, func() error { return write(dir, "more.csv", "") })
		},
		"another folder of the name": func(dir string) error {
			old := dir + "-old"
			if err := os.Rename(dir, old); err != nil {
				return err
			}
			return os.CopyFS(dir, os.DirFS(old))
		},
		"a folder where a file was": func(dir string) error {
			if err := os.Remove(filepath.Join(dir, "log.csv")); err != nil {
				return err
			}
			return os.Mkdir(filepath.Join(dir, "log.csv"), 0o755)
		},
		"a link to the same file": func(dir string) error {
			if err := os.Rename(filepath.Join(dir, "log.csv"), filepath.Join(dir, "photos", "log.csv")); err != nil {
				return err
			}
			return os.Symlink(filepath.Join("photos", "log.csv"), filepath.Join(dir, "log.csv"))
		},
		"gone": os.RemoveAll,
	} {
		t.Run(name, func(t *testing.T) {
			kitchen := t.TempDir()
			dir := filepath.Join(kitchen, "rye")
			if err := os.MkdirAll(filepath.Join(dir, "photos"), 0o755); err != nil {
				t.Fatal(err)
			}
			for _, file := range []string{"trial.md", "log.csv", "photos/a.jpg"} {
				if err := write(dir, file, "word"); err != nil {
					t.Fatal(err)
				}
			}
			r := &reader{content: Content{FS: os.DirFS(kitchen)}}
			was, files := r.stateOf("rye", time.Now().Add(time.Hour))
			if !was.Settled || !was.Known || len(files) != 3 {
				t.Fatalf("%+v, %q", was, files)
			}
			if unsettled, _ := r.stateOf("rye", time.Time{}); r.still("rye", unsettled) {
				t.Error("what is too new is believed")
			}
			// A file system may tell time in steps; what was done in one with the last look
			// would not be believed in a run, for it would not be settled.
			time.Sleep(20 * time.Millisecond)
			if err := do(dir); err != nil {
				t.Fatal(err)
			}
			got, want := r.still("rye", was), name == "nothing" && runtime.GOOS == "linux"
			if got != want {
				t.Errorf("still what it was: %v", got)
			}
		})
	}
}

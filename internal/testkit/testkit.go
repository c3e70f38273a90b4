// Package testkit serves tests, and nothing but tests: it compares results with
// golden files, shows two texts side by side, and hands out random numbers that
// are the same in every run.
//
// There is one flag, -update, for all golden files of a package. It refuses to
// run where the environment says CI, so that a check cannot agree with itself
// there. Bytes are compared as they are: nothing is trimmed, and line ends count.
package testkit

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"hash/fnv"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/diff"
)

var update = flag.Bool("update", false, "rewrite the golden files with what the tests get")

// Golden fails the test unless got is, byte for byte, what the golden file holds.
// With -update it writes the file instead. The path is the one of the test's own
// folder and leads through a folder named testdata.
func Golden(t testing.TB, path string, got []byte) {
	t.Helper()
	if err := golden(path, got, asked()); err != nil {
		t.Error(err)
	}
}

// Updating reports whether what is held against the tests is to be rewritten: for a
// part of a file that is otherwise written by hand. As for golden files, it fails the
// test where CI is set.
func Updating(t testing.TB) bool {
	t.Helper()
	m := asked()
	if m.update && m.ci {
		t.Fatal(errInCI)
	}
	return m.update
}

var errInCI = errors.New("-update is refused where CI is set (update on your own machine and look at the change)")

// mode says how golden files are treated.
type mode struct{ update, ci bool }

// asked is how the tests were called.
func asked() mode { return mode{update: *update, ci: inCI(os.Getenv("CI"))} }

// inCI reads the variable that build services set; "false" and "0" mean no.
func inCI(value string) bool {
	return value != "" && value != "0" && !strings.EqualFold(value, "false")
}

func golden(path string, got []byte, m mode) error {
	if !slices.Contains(strings.Split(filepath.ToSlash(path), "/"), "testdata") {
		return fmt.Errorf("%s: a golden file belongs in a folder named testdata", path)
	}
	if m.update && m.ci {
		return errInCI
	}
	want, err := os.ReadFile(path)
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	case err == nil && bytes.Equal(want, got):
		return nil
	case m.update:
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		return os.WriteFile(path, got, 0o644)
	case err != nil:
		return fmt.Errorf("%s: no golden file yet (run the test with -update and look at what it writes)", path)
	}
	return fmt.Errorf("%s: not what the test got (-update rewrites it):\n%s", path, Diff(want, got))
}

// Diff shows the lines in which two texts differ, with a little around them: "-"
// stands before a line of want, "+" before one of got. It is empty for equal
// texts, and says where they part when only bytes that do not show differ.
func Diff(want, got []byte) string {
	if bytes.Equal(want, got) {
		return ""
	}
	if !bytes.ContainsRune(want, 0) && !bytes.ContainsRune(got, 0) {
		return string(diff.Diff("want", visible(want), "got", visible(got)))
	}
	at := 0
	for at < min(len(want), len(got)) && want[at] == got[at] {
		at++
	}
	return fmt.Sprintf("want %d bytes, got %d, different from byte %d on\n", len(want), len(got), at)
}

// visible marks carriage returns, tabs stay, so that a wrong line end shows.
func visible(text []byte) []byte {
	return bytes.ReplaceAll(text, []byte("\r"), []byte("␍"))
}

// Rand returns random numbers that depend on the name of the test alone: the
// same in every run and on every machine, others in every test.
func Rand(t testing.TB) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(t.Name()))
	return rand.New(rand.NewPCG(h.Sum64(), 0))
}

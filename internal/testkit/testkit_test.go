package testkit

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestGolden(t *testing.T) {
	cases := []struct {
		name   string
		held   string // what the file holds before; "absent" for no file
		got    string
		m      mode
		says   string // in the error; "" for none
		leaves string // what the file holds after
	}{
		{"same", "a\n", "a\n", mode{}, "", "a\n"},
		{"same in CI", "a\n", "a\n", mode{ci: true}, "", "a\n"},
		{"another line", "a\nb\n", "a\nc\n", mode{}, "-b\n+c\n", "a\nb\n"},
		{"only a space more", "a\n", "a \n", mode{}, "-a\n+a \n", "a\n"},
		{"only a line end more", "a\n", "a\n\n", mode{}, "+\n", "a\n"},
		{"another line end", "a\n", "a\r\n", mode{}, "+a␍\n", "a\n"},
		{"no file", "absent", "a", mode{}, "no golden file yet", "absent"},
		{"update writes", "absent", "a", mode{update: true}, "", "a"},
		{"update rewrites", "old", "a", mode{update: true}, "", "a"},
		{"update in CI is refused", "old", "a", mode{update: true, ci: true}, "refused where CI is set", "old"},
		{"update in CI is refused even if nothing would change", "a", "a", mode{update: true, ci: true}, "refused where CI is set", "a"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "testdata", "deep", "x.golden")
			if c.held != "absent" {
				if err := golden(path, []byte(c.held), mode{update: true}); err != nil {
					t.Fatal(err)
				}
			}
			err := golden(path, []byte(c.got), c.m)
			if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v, want it to say %q", err, c.says)
			}
			left, err := os.ReadFile(path)
			if err != nil {
				left = []byte("absent")
			}
			if string(left) != c.leaves {
				t.Errorf("the file holds %q, want %q", left, c.leaves)
			}
		})
	}
}

func TestGoldenStaysInTestdata(t *testing.T) {
	path := filepath.Join(t.TempDir(), "elsewhere.golden")
	if err := golden(path, nil, mode{update: true}); err == nil || !strings.Contains(err.Error(), "testdata") {
		t.Errorf("got %v", err)
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("it was written")
	}
}

// failing stands in for a test that is expected to fail.
type failing struct {
	testing.TB
	failed bool
}

func (f *failing) Helper()      {}
func (f *failing) Error(...any) { f.failed = true }
func (f *failing) Name() string { return "another test" }

func TestGoldenFailsTheTest(t *testing.T) {
	f := &failing{TB: t}
	Golden(f, "testdata/none.golden", []byte("x"))
	if !f.failed {
		t.Error("a missing golden file did not fail the test")
	}
}

func TestInCI(t *testing.T) {
	for value, want := range map[string]bool{"": false, "false": false, "False": false, "0": false, "true": true, "1": true, "yes": true} {
		if got := inCI(value); got != want {
			t.Errorf("CI=%q: got %v", value, got)
		}
	}
}

func TestDiff(t *testing.T) {
	cases := []struct{ name, want, got, diff string }{
		{"equal", "a\n", "a\n", ""},
		{"bytes that are no text", "a\x00b", "a\x00c", "want 3 bytes, got 3, different from byte 2 on\n"},
		{"one is longer", "a\x00", "a\x00b", "want 2 bytes, got 3, different from byte 2 on\n"},
	}
	for _, c := range cases {
		if got := Diff([]byte(c.want), []byte(c.got)); got != c.diff {
			t.Errorf("%s: got %q, want %q", c.name, got, c.diff)
		}
	}
}

func TestRandIsTheSameForTheSameTest(t *testing.T) {
	if Rand(t).Uint64() != Rand(t).Uint64() {
		t.Error("two sources of one test differ")
	}
	if Rand(t).Uint64() == Rand(&failing{TB: t}).Uint64() {
		t.Error("two tests have the same numbers")
	}
}

package press

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/site"
)

func TestCheckPath(t *testing.T) {
	cases := []struct {
		path string
		says string // "" for a good path
	}{
		{"index.html", ""},
		{"rye/index.html", ""},
		{"crème brûlée/焼き.html", ""},
		{"with space/a-b_c.css", ""},
		{".nojekyll", ""},
		{".well-known/x", ""},
		{"a..b/c...d", ""},
		{"console.html", ""},
		{"com/lpt/com10.html", ""},
		{strings.Repeat("a", 255), ""},
		{"", "without a path"},
		{".", "without a path"},
		{"/index.html", "not a path below"},
		{"a/", "not a path below"},
		{"a//b", "not a path below"},
		{"../a", "not a path below"},
		{"a/../b", "not a path below"},
		{"./a", "not a path below"},
		{"a\xff", "not a path below"},
		{`a\b`, `the sign '\\'`},
		{"C:/a", "the sign ':'"},
		{"a?b", "the sign '?'"},
		{"a\nb", `the sign '\n'`},
		{"a\x00b", `the sign '\x00'`},
		{"a./b", "ends in a dot"},
		{"a /b", "ends in a dot or a space"},
		{"con", "keeps for a device"},
		{"a/NUL.txt", "keeps for a device"},
		{"Aux .html", "keeps for a device"},
		{"com1/index.html", "keeps for a device"},
		{"LPT².html", "keeps for a device"},
		{"CONIN$", "keeps for a device"},
		{strings.Repeat("a", 256), "longer than 255 bytes"},
		{".sidebatch-site", "the program's own"},
		{".Sidebatch-Swap/journal", "the program's own"},
	}
	for _, c := range cases {
		err := checkPath(c.path)
		switch {
		case err == nil && c.says != "":
			t.Errorf("%q was accepted", c.path)
		case err != nil && (c.says == "" || !strings.Contains(err.Error(), c.says)):
			t.Errorf("%q: got %v, want %q", c.path, err, c.says)
		}
	}
}

func TestPathsThatMeet(t *testing.T) {
	cases := []struct {
		name  string
		paths []string
		want  []string // the errors, in order
	}{
		{"all different", []string{"a/b", "a/c", "b", "ab"}, nil},
		{"twice", []string{"a/b", "c", "a/b"}, []string{"a/b: two outputs have this path"}},
		{"letter case", []string{"a/B", "a/b"}, []string{"a/b: differs from a/B only in letter case or accents"}},
		{"letter case of a folder", []string{"Rye/a", "rye/b"}, []string{"rye: differs from Rye only in letter case or accents"}},
		{"sharp s", []string{"STRASSE", "straße"}, []string{"straße: differs from STRASSE only in letter case or accents"}},
		{"composed and not", []string{"cre\u0300me", "cr\u00e8me"}, []string{"cr\u00e8me: differs from cre\u0300me only in letter case or accents"}},
		{"file and folder", []string{"a/b/c", "a/b"}, []string{"a/b: both a file and a folder"}},
		{"file and folder with a name between", []string{"a", "a-b", "a/b"}, []string{"a: both a file and a folder"}},
		{"several", []string{"z", "z", "../a", "A", "a"}, []string{
			`"../a": not a path below the site folder (no .. or empty part, no / at either end)`,
			"a: differs from A only in letter case or accents", "z: two outputs have this path"}},
	}
	for _, c := range cases {
		var outputs []site.Output
		for _, p := range c.paths {
			outputs = append(outputs, site.Output{Path: p, Make: func() ([]byte, error) { return nil, nil }})
		}
		err := ordered(outputs).check()
		var got []string
		if err != nil {
			got = strings.Split(err.Error(), "\n")
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

func textOf(l *list) []byte {
	var text bytes.Buffer
	_ = writeList(&text, l.len(), l.path, l.sumOf) // a buffer takes everything
	return text.Bytes()
}

// What is read is what would be written, and leads nowhere outside.
func FuzzParseList(f *testing.F) {
	f.Add(textOf(listOf([]listed{{"index.html", digest{1}}, {"rye/a b.html", digest{2}}})))
	f.Add([]byte(listHead))
	f.Add([]byte(strings.Repeat("0", 64) + "  ../x\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		owned, err := parseList(text)
		if err != nil {
			return
		}
		files := listedIn(owned)
		for i, f := range files {
			if err := checkPath(f.path); err != nil {
				t.Error(err)
			}
			if at, is := owned.find(f.path); !is || at != i {
				t.Errorf("%s is found as %d, %v", f.path, at, is)
			}
		}
		again, err := parseList(textOf(owned))
		if err != nil || !slices.Equal(files, listedIn(again)) || !again.asIs {
			t.Errorf("%v: %v, then %v", err, files, listedIn(again))
		}
		if owned.asIs != bytes.Equal(text, textOf(owned)) {
			t.Errorf("as it would be printed: %v", owned.asIs)
		}
	})
}

func FuzzParseJournal(f *testing.F) {
	f.Add(writeJournal([]change{{drop, 3, digest{1}, "a b"}, {mkdir, 0, digest{}, "rye"}, {put, 0, digest{}, "rye/index.html"}, {put, 4, digest{2}, listName}, {rmdir, 0, digest{}, "oat"}}))
	f.Add([]byte(header + "put 0 - ../x\n" + ending))
	f.Fuzz(func(t *testing.T, text []byte) {
		changes, err := parseJournal(text)
		if err != nil {
			return
		}
		for _, c := range changes {
			if err := checkPath(c.path); err != nil && c.path != listName {
				t.Error(err)
			}
		}
		again, err := parseJournal(writeJournal(changes))
		if diff := cmp.Diff(changes, again, cmp.AllowUnexported(change{})); err != nil || diff != "" {
			t.Errorf("%v %s", err, diff)
		}
	})
}

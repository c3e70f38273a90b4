package press

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestForeignThingsAreRefused(t *testing.T) {
	set := files{"index.html": "new", "rye/index.html": "new rye"}
	cases := []struct {
		name    string
		publish files // before
		foreign files // then laid into the folder
		says    []string
	}{
		{"a folder with content and no list", nil, files{"letter.txt": "dear"}, []string{"letter.txt", "give the site a folder of its own"}},
		{"a file in the way", files{"index.html": "old"}, files{"rye/index.html": "mine"}, []string{"rye/index.html: in the way"}},
		{"the same bytes, but not ours", files{"index.html": "old"}, files{"rye/index.html": "new rye"}, []string{"rye/index.html: in the way"}},
		{"a file in the way of a folder", files{"index.html": "old"}, files{"rye": "mine"}, []string{"rye: in the way", "needs a folder here"}},
		{"a folder in the way of a file", files{"rye/index.html": "old"}, files{"index.html/mine.txt": "mine"}, []string{"index.html/mine.txt: in the way"}},
		{"a page edited by hand", files{"index.html": "old"}, files{"index.html": "mine"}, []string{"index.html: changed since sidebatch wrote it"}},
		{"a stale page edited by hand", files{"index.html": "old", "oat": "old"}, files{"oat": "mine"}, []string{"oat: changed since sidebatch wrote it"}},
		{"several at once", files{"x": "old"}, files{"rye/index.html": "mine", "index.html": "mine"},
			[]string{"index.html: in the way", "rye/index.html: in the way"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			out := newFolder(t)
			if c.publish != nil {
				mustRun(t, out, c.publish)
			}
			for name, text := range c.foreign {
				write(t, out, name, text)
			}
			_, err := publishAll(t.Context(), set.outputs(), Options{Out: out})
			checkError(t, err, ErrForeign, c.says)
			check(t, out, c.publish.with(c.foreign))
		})
	}
}

func TestForeignThingsOutOfTheWayStay(t *testing.T) {
	out := newFolder(t)
	foreign := files{".gitkeep": "", ".git/config": "[core]"}
	for name, text := range foreign {
		write(t, out, name, text)
	}
	mustRun(t, out, files{"a/index.html": "a", "b/index.html": "b"})
	write(t, out, "a/notes.txt", "mine")
	foreign["a/notes.txt"] = "mine"
	mustRun(t, out, files{"index.html": "x"})
	check(t, out, foreign.with(files{"index.html": "x"}))
	mustRun(t, out, files{})
	check(t, out, foreign)
}

func TestAMissingPageComesBack(t *testing.T) {
	out := newFolder(t)
	set := files{"index.html": "x", "rye/index.html": "y"}
	mustRun(t, out, set)
	if err := os.RemoveAll(filepath.Join(out, "rye")); err != nil {
		t.Fatal(err)
	}
	if sum := mustRun(t, out, set); sum.Written != 1 || sum.Unchanged != 1 {
		t.Errorf("got %+v", sum)
	}
	check(t, out, set)
	if err := os.RemoveAll(filepath.Join(out, "rye")); err != nil {
		t.Fatal(err)
	}
	if sum := mustRun(t, out, files{"index.html": "x"}); sum.Removed != 0 {
		t.Errorf("removed what was gone: %+v", sum)
	}
}

func TestLinksLeadNowhere(t *testing.T) {
	outside := t.TempDir()
	write(t, outside, "index.html", "theirs")
	for _, name := range []string{"rye", "rye/index.html"} {
		t.Run(name, func(t *testing.T) {
			out := newFolder(t)
			mustRun(t, out, files{"index.html": "old"})
			link := filepath.Join(out, filepath.FromSlash(name))
			if err := os.MkdirAll(filepath.Dir(link), 0o755); err != nil {
				t.Fatal(err)
			}
			target := outside
			if strings.HasSuffix(name, ".html") {
				target = filepath.Join(outside, "index.html")
			}
			if err := os.Symlink(target, link); err != nil {
				t.Skip(err)
			}
			_, err := publishAll(t.Context(), files{"rye/index.html": "new"}.outputs(), Options{Out: out})
			checkError(t, err, ErrForeign, []string{name + ": in the way"})
			if diff := cmp.Diff(files{"index.html": "theirs"}, held(t, outside)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestTheSiteFolderMayBeALink(t *testing.T) {
	top, elsewhere := t.TempDir(), t.TempDir()
	place := filepath.Join(elsewhere, "www")
	if err := os.Mkdir(place, 0o755); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(top, "public")
	if err := os.Symlink(place, out); err != nil {
		t.Skip(err)
	}
	set := files{"index.html": "x"}
	mustRun(t, out, set)
	check(t, place, set)
	if info, err := os.Lstat(out); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link is gone")
	}
}

func TestPlacesThatAreNoFolder(t *testing.T) {
	top := t.TempDir()
	write(t, top, "file", "x")
	for out, says := range map[string]string{
		"":                              "no folder",
		"/":                             "the root of a disk",
		filepath.Join(top, "file"):      "is a file",
		filepath.Join(top, "file", "x"): "not a directory",
	} {
		_, err := publishAll(t.Context(), nil, Options{Out: out})
		checkError(t, err, nil, []string{says})
	}
	if diff := cmp.Diff(files{"file": "x"}, held(t, top)); diff != "" {
		t.Error(diff)
	}
}

package preview

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

var (
	regexpAt    = regexp.MustCompile(`\?at=\d+`)
	regexpAsset = regexp.MustCompile(`assets/(\w+)-[0-9a-f]+\.`)
)

func themeOf(s *site.Site, theme fs.FS) Theme {
	pages, err := page.New(theme)
	t := Theme{Look: site.Look{Pages: pages}, Err: err, FS: theme, Shown: "my/theme"}
	if err == nil {
		t.Look.Methods, t.Err = page.MethodTexts(theme, s.Kitchen.Language)
	}
	return t
}

func TestExcerpt(t *testing.T) {
	long := strings.Repeat("ä", 500)
	fsys := fstest.MapFS{
		"a": {Data: []byte("\ufeffone\r\ntwo: three\r\nfour\r\n")},
		"b": {Data: []byte(long + "key: x" + long + "\n")},
		"c": {Data: []byte("a\u202eb\x1bc\n")},
	}
	tests := []struct {
		name string
		file string
		at   problem.Pos
		want string // the line that is meant, with [] around its mark
	}{
		{"a word", "a", problem.Pos{Line: 2, Column: 6}, "2 two: [three]"},
		{"a sign", "a", problem.Pos{Line: 2, Column: 4}, "2 two[:] three"},
		{"the first line, without its mark", "a", problem.Pos{Line: 1, Column: 1}, "1 [one]"},
		{"the end of the line", "a", problem.Pos{Line: 3, Column: 5}, "3 four[\u00a0]"},
		{"beyond the line", "a", problem.Pos{Line: 3, Column: 50}, "3 four[\u00a0]"},
		{"the whole line", "a", problem.Pos{Line: 3}, "3 four[]"},
		{"the whole file", "a", problem.Pos{}, ""},
		{"beyond the file", "a", problem.Pos{Line: 9, Column: 1}, ""},
		{"no file", "nowhere", problem.Pos{Line: 1}, ""},
		{"out of the kitchen", "../a", problem.Pos{Line: 1}, ""},
		{"signs that turn a line about", "c", problem.Pos{Line: 1}, "1 a\ufffdb\ufffdc[]"},
		{"a line without end", "b", problem.Pos{Line: 1, Column: 504}, "1 …" + strings.Repeat("ä", 87) + "key[:] x" + strings.Repeat("ä", 178) + "…"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := ""
			for _, l := range excerpt(fsys, tt.file, tt.at) {
				if l.Here {
					got = string(rune('0'+l.Number)) + " " + l.Before + "[" + l.Mark + "]" + l.After
				}
			}
			if got != tt.want {
				t.Errorf("got  %q\nwant %q", got, tt.want)
			}
		})
	}
}

func TestInsert(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"behind the skip link", `<html><head></head><body class="x"><a class="skip" href="#m">Skip</a><p>`, `<html><head>H</head><body class="x"><a class="skip" href="#m">Skip</a>` + "\nB<p>"},
		{"no skip link", "<HEAD></HEAD><BODY><p>", "<HEAD>H</HEAD><BODY>\nB<p>"},
		{"no head, no body", "<p>", "<p>"},
	}
	for _, tt := range tests {
		if got := string(insert([]byte(tt.in), []byte("H"), []byte("B"))); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

// A place in a file, however wrong, gives lines of that file or none.
func FuzzExcerpt(f *testing.F) {
	f.Add([]byte("a\nb: c\n"), 2, 3)
	f.Add([]byte("\xff\xfe\r\r\n"), 1, 0)
	f.Add([]byte(strings.Repeat("x", 1000)), 1, 900)
	f.Fuzz(func(t *testing.T, data []byte, line, column int) {
		lines := excerpt(fstest.MapFS{"f": {Data: data}}, "f", problem.Pos{Line: line, Column: column})
		if len(lines) > 2*linesAround+1 {
			t.Fatalf("%d lines", len(lines))
		}
		here := 0
		for _, l := range lines {
			if l.Here {
				here++
			}
			if n := len([]rune(l.Before + l.Mark + l.After)); n > 5*runesAround {
				t.Fatalf("a line of %d runes", n)
			}
		}
		if len(lines) > 0 && here != 1 {
			t.Fatalf("%d lines are meant", here)
		}
	})
}

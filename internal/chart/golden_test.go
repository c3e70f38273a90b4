package chart

import (
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/testkit"
)

// TestGolden compares every figure with the one that was looked at last. The
// golden files hold the figures as files, so that they can be opened and seen.
func TestGolden(t *testing.T) {
	for _, tc := range cases() {
		t.Run(tc.name, func(t *testing.T) {
			got, err := tc.fig.Draw()
			if err != nil {
				t.Fatalf("%s: %v", tc.why, err)
			}
			testkit.Golden(t, "testdata/"+tc.name+".svg", File(got))
		})
	}
}

// TestFile: a figure in a page brings no style of its own, so that a policy which
// forbids inline styles lets it through; as a file it has a rule for every class
// that it holds, and is the same figure otherwise.
func TestFile(t *testing.T) {
	for _, tc := range cases() {
		t.Run(tc.name, func(t *testing.T) {
			svg, err := tc.fig.Draw()
			if err != nil {
				t.Fatalf("%s: %v", tc.why, err)
			}
			if strings.Contains(string(svg), "<style") || strings.Contains(string(svg), " style=") {
				t.Error("the figure for a page brings a style")
			}
			file := string(File(svg))
			before, rest, opened := strings.Cut(file, "<style>")
			style, after, closed := strings.Cut(rest, "</style>")
			if !opened || !closed || before+after != string(svg) {
				t.Fatal("the file is not the figure and one style element")
			}
			elements, _, _ := readSVG(t, []byte(file))
			for _, e := range elements {
				for class := range strings.FieldsSeq(e.attr["class"]) {
					if class != textName && !strings.Contains(style, "."+class+"{") {
						t.Errorf("no rule for .%s", class)
					}
				}
			}
			if strings.Contains(style, "var(") {
				t.Error("a rule asks for a property that a file does not have")
			}
		})
	}
	if got := string(File([]byte("<p>no figure</p>"))); got != "<p>no figure</p>" {
		t.Errorf("what is no figure became %s", got)
	}
}

package bench

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/wording"
)

// TestPhrases: what is said here are phrases of this room's section; that none is idle
// is a test of the whole house.
func TestPhrases(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var code strings.Builder
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		code.Write(data)
	}
	phrases := wording.English().Of("bench").All()
	said := regexp.MustCompile(`\.(?:Say|Count)\("([^"]+)"`).FindAllStringSubmatch(code.String(), -1)
	if len(said) < 20 {
		t.Fatalf("only %d phrases are said", len(said))
	}
	for _, match := range said {
		if _, has := phrases[match[1]]; !has {
			t.Errorf("there is no phrase %q", match[1])
		}
	}
}

func TestQuestion(t *testing.T) {
	say := wording.English().Of("bench")
	for in, want := range map[string]string{
		"":                  "",
		"which is saltier":  "Which is saltier?",
		"which is saltier?": "Which is saltier?",
		"pick the odd one.": "Pick the odd one.",
	} {
		if got := question(say, in); got != want {
			t.Errorf("question(%q) = %q, want %q", in, got, want)
		}
	}
}

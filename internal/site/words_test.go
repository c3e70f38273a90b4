package site

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// TestPhrases: what is said here, and where the logs are described, are phrases of this
// room's section; that none is idle is a test of the whole house.
func TestPhrases(t *testing.T) {
	code := codeOf(t, ".", "../results")
	phrases := wording.English().Of(section).All()
	said := regexp.MustCompile(`\.(?:Say|Count)\("([^"]+)"`).FindAllStringSubmatch(code, -1)
	if len(said) < 100 {
		t.Fatalf("only %d phrases are said", len(said))
	}
	for _, match := range said {
		if _, has := phrases[match[1]]; !has {
			t.Errorf("there is no phrase %q", match[1])
		}
	}
}

// codeOf is the text of the rooms' own files, without their tests.
func codeOf(t *testing.T, folders ...string) string {
	t.Helper()
	var all strings.Builder
	for _, folder := range folders {
		files, err := filepath.Glob(filepath.Join(folder, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(data)
		}
	}
	return all.String()
}

// TestChartWords: a figure is handed every word that it can say.
func TestChartWords(t *testing.T) {
	words := reflect.ValueOf(chartWords(wording.English().Of(section)))
	for i := range words.NumField() {
		if text := words.Field(i).String(); text == "" || strings.HasPrefix(text, "[") {
			t.Errorf("%s is %q", words.Type().Field(i).Name, text)
		}
	}
}

// TestKinds: every kind of measure has a name of its own.
func TestKinds(t *testing.T) {
	english := wording.English()
	for _, k := range trial.Kinds() {
		if got := results.KindName(english, k); got != string(k) {
			t.Errorf("the kind %q is called %q", k, got)
		}
		if got := testName(english.Of(section), k); k.IsDiscrimination() && got != string(k)+" test" {
			t.Errorf("the test %q is called %q", k, got)
		}
	}
}

func TestCapital(t *testing.T) {
	for in, want := range map[string]string{"": "", "roll": "Roll", "áspera": "Áspera", "1 tbsp": "1 tbsp"} {
		if got := wording.Capital(in); got != want {
			t.Errorf("wording.Capital(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestSize(t *testing.T) {
	say := wording.English().Of(section)
	for in, want := range map[int]string{1: "1 byte", 999: "999 bytes", 1000: "1.0 kB", 3249: "3.2 kB"} {
		if got := size(say, in); got != want {
			t.Errorf("size(%d) = %q, want %q", in, got, want)
		}
	}
}

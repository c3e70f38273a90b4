package food

import (
	"slices"
	"strings"
	"testing"
)

func TestBeginning(t *testing.T) {
	for _, tt := range []struct {
		name, in string
		want     []string // among them
		none     string   // not among them
	}{
		{"a word begun", "sesame o", []string{"sesame oil"}, "sesame seeds"},
		{"case and a space", "Sesame ", []string{"sesame oil"}, "sesame"},
		{"a letter", "o", []string{"oat flour", "olive oil"}, "sesame oil"},
		{"nothing", "zzzz", nil, "sesame oil"},
	} {
		got := Beginning(tt.in)
		if !slices.IsSorted(got) || slices.Contains(got, tt.none) || (len(got) == 0) != (tt.want == nil) {
			t.Errorf("%s: %v", tt.name, got)
		}
		for _, want := range tt.want {
			if !slices.Contains(got, want) {
				t.Errorf("%s: %q is not among %v", tt.name, want, got)
			}
		}
		for _, name := range got {
			if _, found := Find(name); !found {
				t.Errorf("%s: %q is not found", tt.name, name)
			}
		}
	}
	if got := Beginning(strings.Repeat("a", 201)); got != nil {
		t.Errorf("a name that is too long: %v", got)
	}
}

package page

import (
	"maps"
	"strings"
	"testing"
	"testing/fstest"
)

func TestRootColours(t *testing.T) {
	tests := []struct {
		name, in string
		want     map[string]string
	}{
		{"one rule", ":root { --a: #0A1b2c; --b-c:#fff }", map[string]string{"a": "#0a1b2c", "b-c": "#ffffff"}},
		{"a later rule wins", ":root{--a:#000000}p{}:root{--a:#111111}", map[string]string{"a": "#111111"}},
		{"dark is another", ":root{--a:#000000}@media (prefers-color-scheme: dark){:root{--a:#111111}}", map[string]string{"a": "#000000"}},
		{"comments", "/* :root{--a:#000000} */ :root{/* { */--b:#222222;}", map[string]string{"b": "#222222"}},
		{"after a statement", "@layer a;\n:root{--b:#222222}", map[string]string{"b": "#222222"}},
		{"other forms", ":root{--a: red; --b: #1234; --c: var(--d)}", map[string]string{}},
		{"another selector", "html:root{--a:#000000}", map[string]string{}},
		{"cut off", ":root{--a:#000000;", map[string]string{"a": "#000000"}},
		{"nothing", "", map[string]string{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := rootColours([]byte(tt.in)); !maps.Equal(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
}

// The colours are those that the style sheet's own test reads from it, and a theme of
// one's own changes single ones.
func TestLight(t *testing.T) {
	light, err := mustNew(t).Light()
	if err != nil {
		t.Fatal(err)
	}
	if want := palettes(t, string(mustNew(t).Styles()))["light"]; !maps.Equal(light, want) {
		t.Errorf("got %v, want %v", light, want)
	}
	r, err := New(fstest.MapFS{"styles/9-ours.css": file(":root { --red: #0f0; --card: oklch(1 0 0) }")})
	if err != nil {
		t.Fatal(err)
	}
	ours, err := r.Light()
	if err != nil {
		t.Fatal(err)
	}
	if ours["red"] != "#00ff00" || ours["card"] != light["card"] || !strings.HasPrefix(ours["ink-a"], "#") {
		t.Errorf("a theme of one's own has %v", ours)
	}
}

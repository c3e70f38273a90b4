package tabular

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestGuard(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"formula", "=1+1", "'=1+1"},
		{"command", "=cmd|' /C calc'!A0", "'=cmd|' /C calc'!A0"},
		{"address", "@SUM(A1)", "'@SUM(A1)"},
		{"plus", "+1+1", "'+1+1"},
		{"minus", "-2+3", "'-2+3"},
		{"negative number", "-18", "-18"},
		{"signed number", "+18.5", "+18.5"},
		{"power of ten", "-1.5e-3", "-1.5e-3"},
		{"negative with its unit", "-18 °C", "'-18 °C"},
		{"real minus", "−18", "−18"},
		{"dash alone", "-", "'-"},
		{"wide sign", "＝1", "'＝1"},
		{"tab", "\t=1", "'\t=1"},
		{"guarded by hand", "'=1", "''=1"},
		{"apostrophe of a word", "'round", "'round"},
		{"words", "a = b", "a = b"},
		{"nothing", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Guard(tt.in)
			if got != tt.want {
				t.Errorf("Guard(%q) = %q, want %q", tt.in, got, tt.want)
			}
			if back := unguard(got); back != unguarded(tt.in, got) {
				t.Errorf("%q is read as %q", got, back)
			}
		})
	}
}

// TestIsNumber: a plain number is what XML Schema 1.1 part 2 lets stand for a decimal (3.3.3)
// or a double (3.3.5) that is one; the pattern is written from memory of it.
func TestIsNumber(t *testing.T) {
	pattern := regexp.MustCompile(`^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]+)?$`)
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`[+\-]{0,2}[0-9]{0,2}\.?[0-9]{0,2}[eEx]?[+\-]?[0-9.]{0,2}`).Draw(t, "cell")
		if got, want := isNumber(cell), pattern.MatchString(cell); got != want {
			t.Fatalf("%q: %t, want %t", cell, got, want)
		}
	})
}

// unguarded is what a guarded cell must be read as: the cell before.
func unguarded(before, after string) string {
	if before == after {
		return unguard(before)
	}
	return before
}

// TestGuardReadsBack: what the reader gives of a cell, it gives of that again after
// it was published.
func TestGuardReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching(`'{0,3}[=+\-@\t\r＝ '1-9a]{0,3}[0-9.e]{0,3}`).Draw(t, "cell")
		read := unguard(cell)
		published := Guard(read)
		if again := unguard(published); again != read {
			t.Fatalf("%q is read as %q, published as %q, then read as %q", cell, read, published, again)
		}
		if strings.IndexAny(published, "=@\t\r＝") == 0 {
			t.Fatalf("%q is published as %q", cell, published)
		}
	})
}

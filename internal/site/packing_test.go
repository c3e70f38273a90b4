package site

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestPacking: what is packed is unpacked as it was, and what is not packed is refused.
func TestPacking(t *testing.T) {
	var p packing
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Repeat(rapid.String().Draw(t, "text"), rapid.IntRange(0, 2000).Draw(t, "times"))
		small := p.pack(text)
		if got, ok := p.unpack(small); !ok || got != text {
			t.Fatalf("%d bytes became %d", len(text), len(got))
		}
		if _, ok := p.unpack(small[:rapid.IntRange(0, len(small)-1).Draw(t, "cut")]); ok {
			t.Fatal("cut short it is read")
		}
	})
	whole := p.pack(strings.Repeat("a", 1<<20))
	if got, ok := p.unpack(whole); !ok || len(got) != 1<<20 {
		t.Errorf("of much of the same %d bytes came back", len(got))
	}
	for name, small := range map[string]string{
		"nothing":                  "",
		"a length and no more":     "\x05",
		"more than was promised":   "\x01" + p.pack("two")[1:],
		"less than was promised":   "\x04" + p.pack("two")[1:],
		"too large to be believed": "\xff\xff\xff\x1f" + p.pack("two")[1:],
		"another kind of data":     "\x03two",
		"a length without an end":  strings.Repeat("\xff", 12),
	} {
		if got, ok := p.unpack(small); ok {
			t.Errorf("%s: %q", name, got)
		}
	}
}

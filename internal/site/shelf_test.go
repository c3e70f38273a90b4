package site

import (
	"slices"
	"strings"
	"testing"
)

func TestShelf(t *testing.T) {
	tests := []struct{ name, want string }{
		{"rest", "rest"},
		{"Water temperature", "water-temperature"},
		{"water, temperature", "water-temperature-2"},
		{"water-temperature 2", "water-temperature-2-2"},
		{"WATER/TEMPERATURE", "water-temperature-3"},
		{"jalapeño crème", "jalapeño-crème"},
		{"水温", "水温"},
		{"../../etc", "etc"},
		{"½", "factor"},
		{"–", "factor-2"},
		{"index.html", "index-html"},
		{strings.Repeat("long ", 40), strings.TrimSuffix(strings.Repeat("long-", 12), "-")},
	}
	s := newShelf()
	for _, tt := range tests {
		if got := s.put(tt.name, tt.name, "factor"); got != tt.want {
			t.Errorf("%q lies in %q, want %q", tt.name, got, tt.want)
		}
	}
	var all []string
	for _, tt := range tests {
		all = append(all, s.at[tt.name])
	}
	slices.Sort(all)
	if n := len(slices.Compact(all)); n != len(tests) {
		t.Errorf("%d folders for %d names", n, len(tests))
	}
}

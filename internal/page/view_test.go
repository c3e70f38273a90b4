package page

import "testing"

func TestColumns(t *testing.T) {
	line := RecipeLine{Food: "flour", Percent: "100 %"}
	tests := []struct {
		name string
		in   RecipeCard
		want int
	}{
		{"nothing but names", RecipeCard{}, 1},
		{"two systems", RecipeCard{Systems: []string{"Metric", "US"}}, 3},
		{"two systems, full and tested", RecipeCard{Systems: []string{"Metric", "US"}, TestedAt: "half"}, 5},
		{"and percentages", RecipeCard{Systems: []string{"Metric", "US"}, TestedAt: "half", Lines: []RecipeLine{{}, line}}, 6},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := tt.in.Columns(); got != tt.want {
				t.Errorf("%d columns, want %d", got, tt.want)
			}
		})
	}
}

func TestTrayShows(t *testing.T) {
	tray := Tray{Samples: []TraySample{{}, {Pieces: []Piece{{}, {Marks: []Mark{{State: Pass}, {State: Unread}}}}}}}
	for state, want := range map[State]bool{Pass: true, Unread: true, Fail: false, Yes: false} {
		if got := tray.Shows(state); got != want {
			t.Errorf("Shows(%q) = %t, want %t", state, got, want)
		}
	}
}

func TestGroups(t *testing.T) {
	got, err := groups([]SizeLine{{Food: "flour"}, {Food: "water"}, {Food: "oil", Group: "pan"}, {Food: "salt"}})
	if err != nil {
		t.Fatal(err)
	}
	runs, is := got.([]grouped[SizeLine])
	if !is || len(runs) != 3 || len(runs[0].Lines) != 2 || runs[1].Group != "pan" || runs[2].Lines[0].Food != "salt" {
		t.Errorf("groups are %v", got)
	}
	if _, err := groups([]string{"flour"}); err == nil {
		t.Error("strings have groups")
	}
}

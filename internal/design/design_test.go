package design

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func version(name string, levels ...string) Version {
	v := Version{Name: name}
	for i := 0; i+1 < len(levels); i += 2 {
		v.Levels = append(v.Levels, Level{
			Factor: Factor{Kind: Condition, Name: levels[i]},
			Key:    levels[i+1],
			Text:   levels[i+1],
		})
	}
	return v
}

func names(ds []Difference) []string {
	var all []string
	for _, d := range ds {
		all = append(all, d.Factor.Name)
	}
	return all
}

func TestDifferences(t *testing.T) {
	tests := []struct {
		name            string
		sample, against Version
		want            []string
	}{
		{"alike", version("b", "rest", "0", "pan", "hot"), version("a", "rest", "0", "pan", "hot"), nil},
		{"one", version("b", "rest", "30", "pan", "hot"), version("a", "rest", "0", "pan", "hot"), []string{"rest"}},
		{"two, in the order of the one held against", version("b", "pan", "cool", "rest", "30"), version("a", "rest", "0", "pan", "hot"), []string{"rest", "pan"}},
		{"one more", version("b", "rest", "0", "oil", "1 tbsp"), version("a", "rest", "0"), []string{"oil"}},
		{"one fewer", version("b", "rest", "0"), version("a", "rest", "0", "oil", "1 tbsp"), []string{"oil"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := names(Differences(tt.sample, tt.against)); !slices.Equal(got, tt.want) {
				t.Errorf("differ in %q, want %q", got, tt.want)
			}
		})
	}
	absent := Differences(version("b"), version("a", "oil", "1 tbsp"))
	if absent[0].Sample != "" || absent[0].Against != "1 tbsp" {
		t.Errorf("an absent factor is %+v", absent[0])
	}
}

func TestContrasts(t *testing.T) {
	versions := []Version{
		version("control", "rest", "0", "pan", "hot"),
		version("rested", "rest", "30", "pan", "hot"),
		version("both", "rest", "30", "pan", "cool"),
	}
	water := Difference{Factor: Factor{Kind: Ingredient, Name: "water"}}
	again := Difference{Factor: Factor{Kind: Condition, Name: "rest"}}
	got := Contrasts(versions, func(sample, against string) []Difference {
		if sample == "rested" {
			return []Difference{water, again} // rest is planned already and counts once
		}
		return nil
	})
	want := []struct {
		sample, against    string
		planned, unplanned []string
		single, confounded bool
	}{
		{"rested", "control", []string{"rest"}, []string{"water"}, false, true},
		{"both", "control", []string{"rest", "pan"}, nil, false, true},
		{"both", "rested", []string{"pan"}, nil, true, false},
	}
	if len(got) != len(want) {
		t.Fatalf("%d contrasts", len(got))
	}
	for i, w := range want {
		c := got[i]
		if c.Sample != w.sample || c.Against != w.against ||
			!slices.Equal(names(c.Planned), w.planned) || !slices.Equal(names(c.Unplanned), w.unplanned) ||
			c.Single() != w.single || c.Confounded() != w.confounded {
			t.Errorf("contrast %d is %+v, want %+v", i, c, w)
		}
	}
}

// TestContrastLaws: n versions give n(n−1)/2 contrasts; a sample does not differ from
// itself; two samples differ in the same factors whichever is held against which.
func TestContrastLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "versions")
		var versions []Version
		for i := range n {
			var levels []string
			for _, factor := range []string{"rest", "pan", "oil"} {
				if level := rapid.SampledFrom([]string{"", "1", "2"}).Draw(t, factor); level != "" {
					levels = append(levels, factor, level)
				}
			}
			versions = append(versions, version(string(rune('a'+i)), levels...))
		}
		none := func(string, string) []Difference { return nil }
		if got := len(Contrasts(versions, none)); got != n*(n-1)/2 {
			t.Fatalf("%d contrasts of %d versions", got, n)
		}
		for _, a := range versions {
			if len(Differences(a, a)) != 0 {
				t.Fatal("a sample differs from itself")
			}
			for _, b := range versions {
				there, back := names(Differences(a, b)), names(Differences(b, a))
				slices.Sort(there)
				slices.Sort(back)
				if !slices.Equal(there, back) {
					t.Fatalf("%q there, %q back", there, back)
				}
			}
		}
	})
}

package press

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// inLots are outputs in lots, as a site has them: all that lies in a folder of the site is one.
func inLots(outputs []site.Output) []site.Lot {
	var lots []site.Lot
	of := map[string][]site.Output{}
	for _, o := range outputs {
		folder, _, below := strings.Cut(o.Path, "/")
		if !below {
			lots = append(lots, site.LotOf(o))
			continue
		}
		of[folder+"/"] = append(of[folder+"/"], o)
	}
	for at, outputs := range of {
		slices.SortStableFunc(outputs, func(a, b site.Output) int { return strings.Compare(a.Path, b.Path) })
		lots = append(lots, site.Lot{At: at, From: fromAll(outputs), List: func() []site.Output { return outputs }})
	}
	return lots
}

// fromAll stands for outputs of which each is known what it is made of; else it is zero.
func fromAll(outputs []site.Output) site.Digest {
	sum := sha256.New()
	for _, o := range outputs {
		if o.From == (site.Digest{}) {
			return site.Digest{}
		}
		fmt.Fprintf(sum, "%q %x\n", o.Path, o.From)
	}
	return site.Digest(sum.Sum(nil))
}

// sourceOf is a source of lots that does not know what all of them are made of.
func sourceOf(lots ...site.Lot) Source {
	return Source{Lots: func() ([]site.Lot, site.Digest, error) { return lots, site.Digest{}, nil }}
}

func ordered(outputs []site.Output) *set { return inOrder(inLots(outputs), &table{}, &set{}) }

func publishAll(ctx context.Context, outputs []site.Output, o Options) (Summary, error) {
	return Run(ctx, sourceOf(inLots(outputs)...), o)
}

// TestLotsAreNotListed: a lot that is made of what it was made of is not listed while its
// files are as they were left, whatever becomes of the others.
func TestLotsAreNotListed(t *testing.T) {
	out := newFolder(t)
	c := cache.At(CacheOf(out))
	first := files{"a/1": "one", "a/2": "two", "b/1": "three", "c": "four", "d/e/1": "five"}
	publishKnown(t, out, first, Options{})
	settle(t, out, first)
	for _, step := range []struct {
		name string
		set  files
		want []string // the lots that are listed
	}{
		{"the same", first, nil},
		{"a file changed", first.with(files{"a/2": "2"}), []string{"a/"}},
		{"a file more in the middle", first.with(files{"a/2": "2", "a/3": "new"}), []string{"a/"}},
		{"a lot more", first.with(files{"a/2": "2", "a/3": "new", "aa/1": "x"}), []string{"aa/"}},
		{"a lot less", first.with(files{"a/2": "2", "a/3": "new"}), nil},
		{"a file in place of a lot", files{"a": "1", "b/1": "three", "c": "four", "d/e/1": "five"}, []string{"a"}},
	} {
		outputs, made := step.set.known()
		lots := inLots(outputs)
		var listed []string
		for i, lot := range lots {
			lots[i].List = func() []site.Output {
				if !slices.Contains(listed, lot.At) {
					listed = append(listed, lot.At)
				}
				return lot.List()
			}
		}
		sum, err := Run(t.Context(), sourceOf(lots...), Options{Out: out, Cache: c, Workers: 1})
		if err != nil || !slices.Equal(listed, step.want) || int(made.Load()) != sum.Files-sum.Kept {
			t.Errorf("%s: listed %q, made %d, %+v, %v", step.name, listed, made.Load(), sum, err)
		}
		if d := cmp.Diff(step.set, held(t, out)); d != "" {
			t.Errorf("%s: %s", step.name, d)
		}
		settle(t, out, step.set)
	}
}

// TestMixedLots: files of one lot that lie among those of another, or in no order, are
// published like all others.
func TestMixedLots(t *testing.T) {
	out := newFolder(t)
	set := files{"a": "1", "b/1": "2", "b/2": "3", "c": "4"}
	outputs, _ := set.known()
	slices.SortFunc(outputs, func(a, b site.Output) int { return strings.Compare(b.Path, a.Path) })
	odd := func(i int) site.Lot {
		mine := []site.Output{outputs[i], outputs[i+2]}
		return site.Lot{At: outputs[i].Path, From: fromAll(mine), List: func() []site.Output { return mine }}
	}
	for range 3 {
		sum, err := Run(t.Context(), sourceOf(odd(0), odd(1)), Options{Out: out, Cache: cache.At(CacheOf(out))})
		if err != nil || sum.Files != len(set) {
			t.Errorf("%+v, %v", sum, err)
		}
		if d := cmp.Diff(set, held(t, out)); d != "" {
			t.Error(d)
		}
	}
}

// TestLotThatChanges: a lot that lists other files the second time is told.
func TestLotThatChanges(t *testing.T) {
	times := 0
	lot := site.Lot{At: "a/", List: func() []site.Output {
		times++
		return files{fmt.Sprintf("a/%d", times): "1"}.outputs()
	}}
	_, err := Run(t.Context(), sourceOf(lot), Options{Out: newFolder(t)})
	checkError(t, err, nil, []string{"a/1: is no longer listed (publish again)"})
}

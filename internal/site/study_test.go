package site

import (
	"bytes"
	"math"
	"os"
	"reflect"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
)

// TestStudiesAreRemembered: what every trial of every kitchen says of foods and of factors can
// be written down and read back, and what is read back gives the same pages.
func TestStudiesAreRemembered(t *testing.T) {
	pages, err := page.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, folder := range kitchens(t) {
		t.Run(name, func(t *testing.T) {
			var problems problem.List
			s := Load(Content{FS: os.DirFS(folder), Shown: "content"}, &problems)
			p := planned(s.bound(Look{Pages: pages}))
			want := severalTrials(t, p)
			p.memory = forgetful()
			for _, c := range p.Trials {
				c.encode(p.memory, *c.says)
				c.says = nil
			}
			got := severalTrials(t, p)
			for at := range want {
				if !bytes.Equal(want[at], got[at]) {
					t.Errorf("%s is another", at)
				}
			}
			if len(want) != len(got) || len(want) == 0 {
				t.Errorf("%d pages, then %d", len(want), len(got))
			}
		})
	}
}

// severalTrials makes the pages of factors and ingredients.
func severalTrials(t *testing.T, p *planner) map[string][]byte {
	t.Helper()
	p.outputs = nil
	p.many()
	made := map[string][]byte{}
	for _, o := range p.outputs {
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		made[o.Path] = data
	}
	return made
}

// TestFormOfClaims: whatever stands in a study is read as it was written, but for what the card
// has beside it, and foods.
func TestFormOfClaims(t *testing.T) {
	study, got := claim{Study: new(findings.Study), measures: "digests"}, claim{Study: new(findings.Study)}
	n := 0
	filled(reflect.ValueOf(study.Study).Elem(), &n)
	study.Measures[1].From, study.Contrasts[0].Effects[0].Difference, study.Contrasts[0].Effects[1].StandardError = -5, -2.5e-300, math.Inf(1)
	text := writeForm(0, func(f *form) { f.claim(&study) })
	if !readForm(text, func(f *form) { f.claim(&got) }) {
		t.Fatal("cannot be read")
	}
	study.Slug, study.Title, study.Foods = "", "", nil
	if d := cmp.Diff(study, got, cmp.AllowUnexported(claim{})); d != "" {
		t.Error(d)
	}
	for cut := range text {
		if readForm(text[:cut], func(f *form) { f.claim(&got) }) {
			t.Errorf("cut at %d it is read", cut)
		}
	}
}

// TestStudyIsPlain: a study holds nothing that a file cannot hold.
func TestStudyIsPlain(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var look func(at string, of reflect.Type)
	look = func(at string, of reflect.Type) {
		switch of.Kind() {
		case reflect.Struct:
			if seen[of] {
				return
			}
			seen[of] = true
			for i := range of.NumField() {
				field := of.Field(i)
				if !field.IsExported() {
					t.Errorf("%s.%s is not exported", at, field.Name)
				}
				look(at+"."+field.Name, field.Type)
			}
		case reflect.Slice, reflect.Array:
			look(at+"[]", of.Elem())
		case reflect.Pointer, reflect.Interface, reflect.Map, reflect.Func, reflect.Chan, reflect.UnsafePointer:
			t.Errorf("%s is a %s", at, of.Kind())
		}
	}
	look("Study", reflect.TypeFor[findings.Study]())
	if len(seen) < 8 {
		t.Errorf("only %d types", len(seen))
	}
}

// TestFoodPages: the cards of a kitchen know of every food what all studies together say.
func TestFoodPages(t *testing.T) {
	for name, folder := range kitchens(t) {
		var problems problem.List
		s := Load(Content{FS: os.DirFS(folder), Shown: "content"}, &problems)
		var studies []*findings.Study
		for _, e := range s.Trials {
			studies = append(studies, e.says().study)
		}
		all := findings.PantryOf(studies)
		foods := s.bound(testLook(t)).overview().foods
		if len(foods) != len(all) {
			t.Fatalf("%s: %d foods, want %d", name, len(foods), len(all))
		}
		for i, want := range all {
			got := foods[i]
			if got.key != want.Key || got.name != want.Name || got.row != want.Row || len(got.cards) != want.Trials || got.varied != want.VariedIn ||
				!slices.Equal(got.written, want.Written) {
				t.Errorf("%s: %+v, want %+v", name, got, want)
			}
			for j, use := range want.Uses {
				if got.cards[j].Slug != use.Study.Slug {
					t.Errorf("%s, %s: use %d is of %s, want %s", name, got.name, j, got.cards[j].Slug, use.Study.Slug)
				}
			}
		}
	}
}

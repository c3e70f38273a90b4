package site

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
)

// filled gives every exported field below a value one of its own, lists two elements.
func filled(v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.String:
		v.SetString(fmt.Sprint("text ", *n))
	case reflect.Int:
		v.SetInt(int64(*n) << (*n % 40))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Float64:
		v.SetFloat(float64(*n) / 3)
	case reflect.Uint8:
		v.SetUint(uint64(*n))
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		filled(v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			filled(v.Index(i), n)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				filled(v.Field(i), n)
			}
		}
	}
}

// TestFormOfCards: whatever stands on a card is read as it was written, but for what another
// run knows better: where the note lies, and the stamps of files.
func TestFormOfCards(t *testing.T) {
	var held cardsHeld
	n := 0
	for range 3 {
		c := &Card{}
		filled(reflect.ValueOf(c).Elem(), &n)
		held.cards = append(held.cards, c)
	}
	held.setting = Digest{1}
	held.cards[2].Foods = append(held.cards[2].Foods, held.cards[0].Foods[1], &cardFood{Key: "alone"})
	held.cards[2].Factors, held.cards[2].Links = nil, nil
	text := writeForm(0, func(f *form) { f.cards(&held) })
	var got cardsHeld
	if !readForm(text, func(f *form) { f.cards(&got) }) {
		t.Fatal("cannot be read")
	}
	for i := range held.cards {
		c := held.cards[i]
		c.Repeats.Place.File, c.State = "", state{Data: c.State.Data}
	}
	if d := cmp.Diff(held, got, cmp.AllowUnexported(cardsHeld{}, state{}), cmpopts.IgnoreUnexported(Card{}), cmpopts.EquateEmpty()); d != "" {
		t.Error(d)
	}
	if got.cards[2].Foods[2] != got.cards[0].Foods[1] {
		t.Error("what two trials did with a food is there twice")
	}
	for cut := range text {
		if readForm(text[:cut], func(f *form) { f.cards(&got) }) {
			t.Errorf("cut at %d it is read", cut)
		}
	}
}

// TestFormOfParts: what a trial says to the archive and to pages of foods is read as it was
// written.
func TestFormOfParts(t *testing.T) {
	var entry, again archiveEntry
	n := 0
	filled(reflect.ValueOf(&entry).Elem(), &n)
	if !readForm(writeForm(0, func(f *form) { f.archiveEntry(&entry) }), func(f *form) { f.archiveEntry(&again) }) {
		t.Fatal("cannot be read")
	}
	if d := cmp.Diff(entry, again); d != "" {
		t.Error(d)
	}
	var study, got findings.Study
	filled(reflect.ValueOf(&study).Elem(), &n)
	if !readForm(writeForm(0, func(f *form) { f.foods(&study) }), func(f *form) { f.foods(&got) }) {
		t.Fatal("cannot be read")
	}
	want := findings.Study{Slug: study.Slug, Title: study.Title, Day: study.Day, Foods: study.Foods}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestFormOfFronts: the same of what the first page and the feed show of a trial.
func TestFormOfFronts(t *testing.T) {
	var whole, bare front
	n := 0
	filled(reflect.ValueOf(&whole).Elem(), &n)
	for _, made := range []front{whole, bare} {
		got := front{Card: page.Card{Prefer: &page.SampleRef{}}}
		if !readForm(writeForm(0, func(f *form) { f.front(&made) }), func(f *form) { f.front(&got) }) {
			t.Fatal("cannot be read")
		}
		if d := cmp.Diff(made, got); d != "" {
			t.Error(d)
		}
	}
}

// TestAlike: values that say the same become one, those that differ in one field do not, and
// each list keeps its order.
func TestAlike(t *testing.T) {
	foods := newAlike((*form).food)
	butter := func() *cardFood { return &cardFood{Key: "butter", Written: []string{"butter", "cold butter"}} }
	varied := &cardFood{Key: "butter", Written: []string{"butter", "cold butter"}, Varied: true}
	salt := &cardFood{Key: "salt"}
	first := foods.share([]*cardFood{butter(), salt})
	second := foods.share([]*cardFood{{Key: "salt"}, butter(), varied})
	if second[0] != first[1] || second[1] != first[0] {
		t.Error("what says the same is there twice")
	}
	if want := []cardFood{*salt, *butter(), *varied}; !cmp.Equal(want, []cardFood{*second[0], *second[1], *second[2]}) {
		t.Errorf("another list: %v", second)
	}
	if second[2] == first[0] {
		t.Error("what was varied is taken for what was not")
	}
}

// TestFormOfStandings: the same of what a kitchen came to.
func TestFormOfStandings(t *testing.T) {
	var held, got standingHeld
	n := 0
	filled(reflect.ValueOf(&held).Elem(), &n)
	text := writeForm(0, func(f *form) { f.standing(&held) })
	if !readForm(text, func(f *form) { f.standing(&got) }) {
		t.Fatal("cannot be read")
	}
	if d := cmp.Diff(held, got, cmp.AllowUnexported(state{})); d != "" {
		t.Error(d)
	}
}

// FuzzForm: whatever is in the cache, no more is read from it than there is, and what is read
// can be written.
func FuzzForm(f *testing.F) {
	held := cardsHeld{cards: []*Card{{Slug: "a", Foods: []*cardFood{{Key: "rye"}}}, {Slug: "b", Foods: []*cardFood{{Key: "rye"}}}}}
	f.Add(writeForm(0, func(f *form) { f.cards(&held) }))
	f.Add(strings.Join(blobOf(map[Digest]string{{1}: "one", {2}: ""}), ""))
	study := findings.Study{Recipe: "Stew", Measures: []findings.StudyMeasure{{Name: "done"}}, Contrasts: []findings.StudyContrast{{Of: "b", Effects: []findings.StudyEffect{{Difference: 0.5}}}}}
	f.Add(writeForm(0, func(f *form) { f.claim(&claim{Study: &study, measures: "measures"}) }))
	f.Add(writeForm(0, func(f *form) { f.archiveEntry(&archiveEntry{Slug: "a", Foods: []string{"rye"}}) }))
	f.Add(writeForm(0, func(f *form) {
		f.foods(&findings.Study{Slug: "a", Foods: []findings.FoodUse{{Key: "rye", Lines: []string{"1 g rye"}}}})
	}))
	f.Add(writeForm(0, func(f *form) { f.front(&front{Card: page.Card{Title: "a", Photo: &page.Photo{}}}) }))
	f.Add(writeForm(0, func(f *form) { f.fronts(&frontsHeld{slugs: []string{"a"}, fronts: []frontHeld{{text: "front"}}}) }))
	f.Add(writeForm(0, func(f *form) { f.passage(&passageHeld{text: "passage"}) }))
	f.Add(writeForm(0, func(f *form) { f.standing(&standingHeld{Slugs: []string{"a"}, States: []state{{Known: true}}}) }))
	f.Fuzz(func(t *testing.T, text string) {
		var cards, again cardsHeld
		if readForm(text, func(f *form) { f.cards(&cards) }) {
			if !readForm(writeForm(0, func(f *form) { f.cards(&cards) }), func(f *form) { f.cards(&again) }) || len(again.cards) != len(cards.cards) {
				t.Error("cards that were read cannot be written")
			}
		}
		var parts partsHeld
		if readForm(text, func(f *form) { f.parts(&parts) }) {
			for i := range min(8, len(parts.which)/digestSize) {
				_ = parts.find(Digest([]byte(parts.which[i*digestSize:])[:digestSize]))
			}
		}
		read, copied := claim{Study: new(findings.Study)}, claim{Study: new(findings.Study)}
		if readForm(text, func(f *form) { f.claim(&read) }) {
			if !readForm(writeForm(0, func(f *form) { f.claim(&read) }), func(f *form) { f.claim(&copied) }) {
				t.Error("a claim that was read cannot be written")
			}
			_ = read.on(0)
		}
		var entry archiveEntry
		_ = readForm(text, func(f *form) { f.archiveEntry(&entry) })
		_ = readForm(text, func(f *form) { f.foods(read.Study) })
		var shown front
		_ = readForm(text, func(f *form) { f.front(&shown) })
		var newest frontsHeld
		_ = readForm(text, func(f *form) { f.fronts(&newest) })
		var passage passageHeld
		_ = readForm(text, func(f *form) { f.passage(&passage) })
		var standing standingHeld
		_ = readForm(text, func(f *form) { f.standing(&standing) })
	})
}

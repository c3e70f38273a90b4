package writeup

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// spanishTrial is an invented trial of bread rolls in a kitchen that speaks Spanish. Its
// foods are rows of the table by number, so that nothing in it is English.
func spanishTrial(t *testing.T) *findings.Findings {
	t.Helper()
	book, err := wording.Read(nil)
	if err != nil || !book.Has("es") {
		t.Fatalf("languages %q: %v", book.Names(), err)
	}
	k := kitchen.Default().Speaking(book.In("es"))
	k.Allergens = kitchen.AllergensBoth
	k.Units = []quantity.System{quantity.MetricSystem, quantity.USSystem}
	content := fstest.MapFS{
		"panecillos/trial.md": {Data: []byte(`---
title: Panecillos con más reposo
question: ¿Suben más?
cooked: 2026-03-09
published: 2026-03-14
recipe:
  name: Panecillos
  makes: 12 panecillos
  tested at: 1/2
  ingredients:
    harina: 500 g harina de trigo
    agua: 325 g agua
    sal: 3 g sal
    impulsor: 4 g impulsor
    grasa: 30 g 01145
    huevo: 1 huevo
    aceite: 10 g aceite de oliva
  flours: [harina]
  beside: [aceite]
  times: {prepare: 15 min, wait: 1 h 30 min, cook: 20 min}
  steps: ["Amasar y dejar reposar {reposo}.", Hornear.]
foods: {harina: "20581", agua: "14411", sal: "02047", impulsor: "18369", huevo: "01123", aceite: "04053"}
conditions: {reposo: 1 h}
allergens: {free of: [milk], contains: [celery]}
samples:
  corto: {name: Corto, control: true, dough: 430 g, divided into: 6, each: 70 g}
  largo: {name: Largo, change: {reposo: 3 h}, dough: 480 g}
  graso: {name: Graso, change: {reposo: 3 h, grasa: 28 g 04002}, like: largo}
measures:
  altura: {kind: length, in: cm, primary: true, not controlled: true}
  entero: {kind: pass or fail, asks: no se abre}
verdict: {prefer: largo, because of: [altura]}
---
`)},
		"panecillos/pieces.csv": {Data: []byte(`sample,piece,altura,entero,set aside
corto,1,4.1,pass,
corto,2,4.3,pass,
corto,3,4.2,fail,
corto,4,4.0,fail,quemado
largo,1,6.1,pass,
largo,2,6.3,pass,
largo,3,6.2,pass,
graso,1,5.1,pass,
graso,2,5.3,fail,
graso,3,5.2,pass,
`)},
	}
	var problems problem.List
	read := trial.Read(trial.Folder{FS: content, Slug: "panecillos"}, k, &problems)
	if read == nil || problems.Errors() > 0 {
		t.Fatal(problems.Sorted())
	}
	return findings.Of(read)
}

// english are words that stand in nearly every English sentence, and in no Spanish one.
var english = regexp.MustCompile(`(?i)\b(the|of|and|with|from|is|are|not|than|each|about|which|was|at least|by|to|batch|piece|flour|fat|contains|label)\b`)

// TestSpanish: a kitchen that speaks Spanish gives views without English. Only the
// food table's name and the publications that cautions lean on keep theirs.
func TestSpanish(t *testing.T) {
	f := spanishTrial(t)
	v, r := Of(f), Recipe(f)
	for _, cautions := range [][]page.Caution{v.Cautions, r.Cautions} {
		for i := range cautions {
			cautions[i].Sources = nil
		}
	}
	study, spanish := f.Study(), f.Trial.Kitchen.Words
	factors := findings.EvidenceOf([]*findings.Study{&study})
	foods := findings.PantryOf([]*findings.Study{&study})
	views := []any{v, r, Card(f), Row(f), RecipeTable(f, ""), SamplesTable(f, "")}
	for _, e := range factors {
		views = append(views, Factor(e, spanish))
		for i, m := range e.Measures {
			views = append(views, FactorMeasure(m, i, spanish))
		}
	}
	for _, p := range foods {
		p.Row = "" // the table's own description
		views = append(views, Ingredient(p, spanish))
	}
	own := strings.NewReplacer("USDA National Nutrient Database for Standard Reference, Release 28", "", "Dietary Guidelines for Americans", "")
	for _, view := range views {
		for _, text := range texts(t, view) {
			if found := english.FindString(own.Replace(text)); found != "" {
				t.Errorf("%q is English: %s", found, text)
			}
		}
	}
}

// texts lists every text of a view; the names of its fields and what is chosen by a
// word (the degree of support) are not for readers.
func texts(t *testing.T, view any) []string {
	t.Helper()
	data, err := json.Marshal(view)
	if err != nil {
		t.Fatal(err)
	}
	var value any
	if err := json.Unmarshal(data, &value); err != nil {
		t.Fatal(err)
	}
	var all []string
	var walk func(name string, value any)
	walk = func(name string, value any) {
		switch value := value.(type) {
		case map[string]any:
			for name, inner := range value {
				walk(name, inner)
			}
		case []any:
			for _, inner := range value {
				walk(name, inner)
			}
		case string:
			if name != "Href" && name != "Support" && name != "State" && name != "Why" && name != "Method" {
				all = append(all, value)
			}
		}
	}
	walk("", value)
	return all
}

// trusted is the sentence about the salt on the scale.
func trusted(v page.WriteUp) string {
	for _, s := range v.Trust {
		if strings.Contains(s.Text, "de sal en una balanza") {
			return s.Text
		}
	}
	return ""
}

// TestSpanishWords: numbers, dates, plurals, names of nutrients and allergens.
func TestSpanishWords(t *testing.T) {
	f := spanishTrial(t)
	v, r := Of(f), Recipe(f)
	shares := map[string]string{}
	for _, p := range r.Percents {
		shares[p.Food] = p.Percent
	}
	rows := map[string][]string{}
	for _, row := range r.Nutrition.Tables[0].Rows {
		rows[row[0]] = row[1:]
	}
	spanish := f.Trial.Kitchen.Words
	tests := []struct{ name, got, want string }{
		{"date", v.Published.Text, "14 de marzo de 2026"},
		{"evidence", v.Size, "3 muestras, 10 piezas"},
		{"size", v.Recipe.TestedAt, "media tanda"},
		{"baker's percentage", shares["sal"], "0,6 %"},
		{"times", v.Recipe.Times[1].Label + " " + v.Recipe.Times[1].Text, "espera 1 h 30 min"},
		{"p", Probability(spanish, 0.0312), "0,031"},
		{"a small p", Probability(spanish, 0), "menos de 0,001"},
		{"change", Change(f.Trial.Measures[0], 20.5), "+2,05 cm"},
		{"points", Change(f.Trial.Measures[1], -0.5), "−50 puntos"},
		{"two thirds of a batch", SizeName(spanish, quantity.Ratio(2, 3)), "⅔ de tanda"},
		{"a nutrient", strings.Join(rows["grasa"], "; "), "3 g; 3,5 g; 34 g"},
		{"household measure", r.Sizes[0].Lines[0].SpoonedBy, "1 taza = 125 g"},
		{"less than", spoken(spanish).rounded(recipe.Rounded{Number: quantity.Int(5), LessThan: true, Unit: "mg"}), "menos de 5 mg"},
		{"at least", spoken(spanish).rounded(recipe.Rounded{Number: quantity.Ratio(9, 2), AtLeast: true, Unit: "g"}), "al menos 4,5 g"},
		{"step", trusted(v), "1,5 g de sal en una balanza que marca de 1 g en 1 g se conoce con un margen igual a dos terceras partes de esa cantidad."},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, tt.got, tt.want)
		}
	}
	said := said(v.Allergens)
	for _, want := range []string{"Contiene: huevos", "Contiene: trigo (UE: cereales que contengan gluten)", "apio [lista de la UE]", "No se indica: leche"} {
		if !strings.Contains(said, want) {
			t.Errorf("allergens without %q:\n%s", want, said)
		}
	}
}

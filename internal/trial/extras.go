package trial

import (
	"io/fs"
	"net/url"
	"path"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

func (r *reader) verdict(f *yamldoc.Field) {
	if f == nil {
		return
	}
	m := f.Map(r.problems)
	if m == nil {
		return
	}
	v := Verdict{Place: f.Pos(), Prefer: r.sampleNamed(m.Get("prefer")), InWords: r.text(m.Get("in words"))}
	if because := m.Get("because of"); because != nil {
		for _, item := range r.items(because, mostNames, "measures") {
			name, ok := item.Text(r.problems)
			if !ok {
				continue
			}
			if r.trial.Measure(name) == nil {
				r.problems.Hinted(item.Pos(), problem.UnknownName, problem.DidYouMean(name, r.trial.measureNames()),
					"no measure is called %q", name)
				continue
			}
			v.BecauseOf = append(v.BecauseOf, name)
			v.Because = append(v.Because, item.Pos())
		}
	}
	m.Done()
	r.trial.Verdict = v
}

func (t *Trial) measureNames() []string {
	names := make([]string, 0, len(t.Measures))
	for _, m := range t.Measures {
		names = append(names, m.Name)
	}
	return names
}

// labelKeys are the lines a package's label may be quoted with, and their unit
// when the note gives none.
func labelKeys() map[string]string {
	return map[string]string{
		"energy": "kcal", "fat": "g", "saturated": "g", "monounsaturated": "g", "polyunsaturated": "g",
		"trans": "g", "cholesterol": "mg", "carbohydrate": "g", "fibre": "g", "sugars": "g",
		"protein": "g", "sodium": "mg", "salt": "g",
	}
}

func (r *reader) labels(f *yamldoc.Field) []Label {
	var labels []Label
	for _, e := range r.entries(f, mostIngredients, "labels") {
		m := e.Value.Map(r.problems)
		if m == nil {
			continue
		}
		l := Label{Food: e.Key, Place: e.KeyPos}
		if foods := r.foodNames(); !slices.Contains(foods, e.Key) {
			r.problems.Hinted(e.KeyPos, problem.UnknownName, problem.DidYouMean(e.Key, foods),
				"no ingredient is called %q", e.Key)
		}
		if serving := m.Need("serving"); serving != nil {
			l.Serving = r.serving(serving)
		}
		names := make([]string, 0, len(labelKeys()))
		for name := range labelKeys() {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			if n, ok := r.labelNutrient(name, m.Get(name)); ok {
				l.Nutrients = append(l.Nutrients, n)
			}
		}
		m.Done()
		labels = append(labels, l)
	}
	return labels
}

// foodNames are the names of all ingredients, of the recipe and of every sample.
func (r *reader) foodNames() []string {
	var names []string
	for _, i := range r.trial.Recipe.Ingredients {
		names = append(names, i.Food)
	}
	for _, s := range r.trial.Samples {
		for _, i := range s.Plan.Ingredients {
			if !slices.Contains(names, i.Food) {
				names = append(names, i.Food)
			}
		}
	}
	return names
}

// RecipeLabels are the note's labels as the recipe counts with them. Lines that it
// does not know were reported when the note was read.
func (t *Trial) RecipeLabels() []recipe.Label {
	var labels []recipe.Label
	for _, l := range t.Labels {
		values := map[food.Nutrient]quantity.Number{}
		for _, n := range l.Nutrients {
			if nutrient, value, ok := recipe.LabelValue(n.Name, n.Amount, n.Unit); ok {
				values[nutrient] = value
			}
		}
		labels = append(labels, recipe.Label{Food: l.Food, Serving: l.Serving, Values: values})
	}
	return labels
}

func (r *reader) serving(f *yamldoc.Field) quantity.Amount {
	text, ok := f.Text(r.problems)
	if !ok {
		return quantity.Amount{}
	}
	amount, err := quantity.Parse(text, r.kitchen.Instruments.Volumes)
	if err != nil {
		r.badAmount(f, err)
		return quantity.Amount{}
	}
	if d := amount.Dimension(); (d != quantity.Mass && d != quantity.Volume) || amount.Low().Sign() <= 0 {
		r.problems.Hinted(f.Pos(), problem.WrongUnit, "write it like 14 g", "%q is no serving", text)
		return quantity.Amount{}
	}
	return amount
}

// labelNutrient reads "120 kcal", "500 kJ", "14 g", "0.4 mg".
func (r *reader) labelNutrient(name string, f *yamldoc.Field) (LabelNutrient, bool) {
	text, ok := f.Text(r.problems)
	if !ok {
		return LabelNutrient{}, false
	}
	number, unit, spaced := strings.Cut(strings.TrimSpace(text), " ")
	if !spaced {
		unit = labelKeys()[name]
	}
	amount, err := quantity.ParseNumber(number)
	if err != nil || amount.Sign() < 0 {
		r.problems.Hinted(f.Pos(), problem.BadAmount, "write it like 14 "+labelKeys()[name], "%q is no amount of %s", text, name)
		return LabelNutrient{}, false
	}
	allowed := []string{"g", "mg", "µg"}
	if name == "energy" {
		allowed = []string{"kcal", "kJ"}
	}
	if !slices.Contains(allowed, unit) {
		r.problems.Hinted(f.Pos(), problem.UnknownUnit, "use "+strings.Join(allowed, " or "), "%q is no unit of %s on a label", unit, name)
		return LabelNutrient{}, false
	}
	return LabelNutrient{Name: name, Amount: amount, Unit: unit}, true
}

// hasFile checks that the note names a file inside its own folder.
func (r *reader) hasFile(f *yamldoc.Field, name string) bool {
	if strings.Contains(name, `\`) {
		r.problems.Hinted(f.Pos(), problem.BadAddress, "folders are parted by / on every system: "+strings.ReplaceAll(name, `\`, "/"),
			"%s has a backslash", name)
		return false
	}
	if !fs.ValidPath(path.Clean(name)) {
		r.problems.Hinted(f.Pos(), problem.BadAddress, "name a file in the trial's own folder, like photos/cool.jpg",
			"%q is outside the trial", name)
		return false
	}
	info, err := fs.Stat(r.folder.FS, path.Join(r.folder.Slug, name))
	if err != nil || !info.Mode().IsRegular() {
		r.problems.Errorf(f.Pos(), problem.MissingFile, "there is no file %s beside the note", name)
		return false
	}
	return true
}

func (r *reader) video(f *yamldoc.Field) Video {
	var v Video
	if f == nil {
		return v
	}
	m := f.Map(r.problems)
	if m == nil {
		return v
	}
	if address := m.Need("address"); address != nil {
		v.Address = r.webAddress(address)
	}
	for _, e := range r.entries(m.Get("chapters"), mostChapters, "chapters") {
		at, err := quantity.ParseTime(e.Key)
		title, ok := e.Value.Text(r.problems)
		if err != nil {
			r.problems.Hinted(e.KeyPos, problem.BadAmount, `write it like "1:10"`, "%q is not a time in the video", e.Key)
			continue
		}
		if ok {
			v.Chapters = append(v.Chapters, Chapter{At: at, Title: title})
		}
	}
	m.Done()
	slices.SortStableFunc(v.Chapters, func(a, b Chapter) int { return a.At.Low().Cmp(b.At.Low()) })
	return v
}

func (r *reader) webAddress(f *yamldoc.Field) string {
	text, ok := f.Text(r.problems)
	if !ok {
		return ""
	}
	u, err := url.Parse(text)
	if err != nil || (u.Scheme != "https" && u.Scheme != "http") || u.Host == "" {
		r.problems.Hinted(f.Pos(), problem.BadAddress, "write the whole address, with https://", "%q is not a web address", text)
		return ""
	}
	return u.String()
}

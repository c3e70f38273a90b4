package site

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/linkeddata"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/writeup"
)

// address is where a page of the site stands: whole where the kitchen has an
// address, else relative to the page that says it.
func (p *binding) address(from, to string) string {
	if whole := p.canonical(to); whole != "" {
		return whole
	}
	if relative := up(from) + strings.TrimSuffix(to, "index.html"); relative != "" {
		return relative
	}
	return "./"
}

func (p *binding) maker(e *Entry) linkeddata.Maker {
	m := linkeddata.Maker{Kitchen: p.Kitchen.Name}
	for _, key := range e.Trial.By {
		m.People = append(m.People, p.Kitchen.Person(key))
	}
	return m
}

// crumbs is the way to a page of a trial, with the page's own name last.
func (p *binding) crumbs(e *Entry, at string, last ...string) linkeddata.Breadcrumbs {
	way := linkeddata.Breadcrumbs{
		{Name: p.Kitchen.Name, Address: p.address(at, "index.html")},
		{Name: e.Trial.Title, Address: p.address(at, e.Trial.Slug+"/")},
	}
	for _, name := range last {
		way = append(way, linkeddata.Crumb{Name: name, Address: p.address(at, at)})
	}
	return way
}

// pictures are the addresses of a trial's pictures: of a sample first, if any is
// named, then of the others, then those of the prose. Where there is none, the
// picture that is shown with shared links stands for them.
func (p *binding) pictures(e *Entry, at, first string) []string {
	var all []string
	add := func(file string) {
		if address := p.address(at, e.Trial.Slug+"/"+file); !slices.Contains(all, address) {
			all = append(all, address)
		}
	}
	if photo, ok := e.samplePhotos[first]; ok {
		add(photo.largest(beside))
	}
	for _, s := range e.Samples {
		if photo, ok := e.samplePhotos[s.Key]; ok {
			add(photo.largest(beside))
		}
	}
	for _, photo := range e.account.photos {
		add(photo.largest(whole))
	}
	if len(all) == 0 {
		all = append(all, p.address(at, sharePicture(e))+p.shareQuery(e))
	}
	return all
}

// linkedWriteUp is what the write-up says to programs.
func (p *binding) linkedWriteUp(e *Entry, at string, v page.WriteUp) ([]byte, error) {
	t := e.Trial
	own := p.address(at, at)
	dataset := p.dataset(e, at)
	article := linkeddata.Article{
		ID: own + "#write-up", Address: own, Headline: t.Title, Description: v.Frame.Description,
		By: p.maker(e), Publisher: p.Kitchen.Name, Published: t.Published.String(), Language: p.Kitchen.Language,
		Keywords: t.Keywords, Images: p.pictures(e, at, ""), About: varied(e), Data: dataset.ID,
	}
	things := []linkeddata.Thing{dataset, p.crumbs(e, at)}
	if t.Video.Address != "" {
		video := linkeddata.Video{
			ID: own + "#video", Name: t.Title, Description: t.Question, Address: t.Video.Address,
			Thumbnails: p.pictures(e, at, ""), Language: p.Kitchen.Language, Clips: clips(t.Video.Chapters),
		}
		article.Video = video.ID
		things = append(things, video)
	}
	return linkeddata.Page(append([]linkeddata.Thing{article}, things...)...)
}

// varied are the factors of all contrasts.
func varied(e *Entry) []string {
	var names []string
	for _, c := range e.Contrasts {
		for _, d := range c.Planned {
			if !slices.Contains(names, d.Factor.Name) {
				names = append(names, d.Factor.Name)
			}
		}
	}
	return names
}

// clips are the chapters in whole seconds; one ends where the next begins, and two
// that begin in the same second are one, named by the first.
func clips(chapters []trial.Chapter) []linkeddata.Clip {
	var all []linkeddata.Clip
	for _, c := range chapters {
		start := int(wholeSeconds(c.At))
		if n := len(all); n > 0 {
			if all[n-1].Start == start {
				continue
			}
			all[n-1].End = start
		}
		all = append(all, linkeddata.Clip{Name: c.Title, Start: start})
	}
	return all
}

// wholeSeconds is a time without its fraction of a second; of a range, its start.
func wholeSeconds(a quantity.Amount) int64 {
	if a.IsZero() {
		return 0
	}
	low, _ := a.Base()
	seconds, _ := low.Floor().Int64()
	return seconds
}

// dataset is the trial's readings and results, with what there is to download.
func (p *binding) dataset(e *Entry, from string) linkeddata.Dataset {
	t, say := e.Trial, p.phrases()
	home := t.Slug + "/data/"
	d := linkeddata.Dataset{
		ID:          p.address(from, home) + "#dataset",
		Address:     p.address(from, home),
		Name:        say.Say("data title", "trial", t.Title),
		Description: say.Say("dataset about", "question", t.Question, "evidence", writeup.Evidence(e.Findings)),
		By:          p.maker(e),
		Published:   t.Published.String(),
		Covers:      t.Cooked.String(),
		Language:    p.Kitchen.Language,
		Keywords:    t.Keywords,
		Licence:     p.Kitchen.Licence.Address,
	}
	if p.Kitchen.Invented {
		d.Description += " " + say.Say("dataset invented")
	}
	for _, m := range t.Measures {
		v := linkeddata.Variable{Name: m.Name, Description: results.KindName(p.Kitchen.Words, m.Kind), Unit: m.In.Symbol()}
		if m.Asks != "" {
			v.Description += ": " + m.Asks
		}
		d.Measured = append(d.Measured, v)
		if m.Kind.IsDiscrimination() {
			d.Technique = append(d.Technique, testName(say, m.Kind))
		}
	}
	for _, f := range downloads(e) {
		d.Distribution = append(d.Distribution, linkeddata.Download{
			Name: f.name, Address: p.address(from, home+f.name), Format: mediaType(f.name), Words: f.what,
		})
	}
	return d
}

// mediaType is the kind of a file as the IANA registers it.
func mediaType(name string) string {
	switch {
	case strings.HasSuffix(name, results.MetadataSuffix):
		return "application/csvm+json" // W3C, Metadata Vocabulary for Tabular Data, appendix B
	case strings.HasSuffix(name, ".csv"):
		return "text/csv" // RFC 4180
	case strings.HasSuffix(name, ".json"):
		return "application/json" // RFC 8259
	}
	return "text/markdown" // RFC 7763
}

// linkedData is what the data page says to programs.
func (p *binding) linkedData(e *Entry, at string) ([]byte, error) {
	return linkeddata.Page(p.dataset(e, at), p.crumbs(e, at, p.phrases().Say("data")))
}

// linkedRecipe is what the recipe page says to programs: the version that readers
// cook from, at its full size.
func (p *binding) linkedRecipe(e *Entry, at string, v page.Recipe) ([]byte, error) {
	t := e.Trial
	plan, sample := t.Recipe, ""
	if v.Follows != nil {
		for _, s := range e.Samples {
			if s.Letter == v.Follows.Letter {
				plan, sample = s.Plan, s.Key
			}
		}
	}
	prepare, wait, cook := wholeSeconds(t.Recipe.Times.Prepare), wholeSeconds(t.Recipe.Times.Wait), wholeSeconds(t.Recipe.Times.Cook)
	r := linkeddata.Recipe{
		ID: p.address(at, at) + "#recipe", Address: p.address(at, at), Name: v.Name,
		Description: strings.TrimSpace(v.Frame.Description + " " + v.Intro),
		By:          p.maker(e), Published: t.Published.String(), Images: p.pictures(e, at, sample), Yield: v.Makes,
		Ingredients: ingredients(t, v),
		PrepTime:    linkeddata.Duration(prepare), CookTime: linkeddata.Duration(cook), TotalTime: linkeddata.Duration(prepare + wait + cook),
		Keywords: t.Keywords, Language: p.Kitchen.Language, Nutrition: perPiece(p.phrases(), results.NutritionOf(t, plan)),
		BasedOn: p.address(at, t.Slug+"/"),
	}
	for _, step := range v.Steps {
		r.Steps = append(r.Steps, linkeddata.Step{Text: step.Text})
	}
	return linkeddata.Page(r, p.crumbs(e, at, v.Name))
}

// ingredients are the lines of the full batch, in the kitchen's first units.
func ingredients(t *trial.Trial, v page.Recipe) []string {
	full := slices.IndexFunc(t.Kitchen.Sizes, func(s kitchen.Size) bool { return s.Of.Equal(quantity.Int(1)) })
	if full < 0 || full >= len(v.Sizes) {
		return nil
	}
	var lines []string
	say := phrasesFor(t)
	for _, l := range v.Sizes[full].Lines {
		line := l.Food
		if l.Preparation != "" {
			line += ", " + l.Preparation
		}
		switch {
		case len(l.Amounts) == 0:
		case l.Amounts[0].Text == t.Kitchen.Instruments.Words(quantity.ToTaste()):
			line += ", " + l.Amounts[0].Text
		case l.Amounts[0].About:
			line = say.Say("about amount of food", "amount", l.Amounts[0].Text, "food", line)
		default:
			line = say.Say("amount of food", "amount", l.Amounts[0].Text, "food", line)
		}
		lines = append(lines, line)
	}
	return lines
}

// perPiece is what one piece of a version of the recipe holds, where its energy is
// known: search engines take no other figure without it. Numbers have a point, whatever
// the language: so schema.org asks for them.
func perPiece(say wording.Phrases, n results.Nutrition) *linkeddata.Nutrition {
	show := func(name, unit string, decimals int) string {
		x, known := n.PerPiece[name]
		if !known || x == nil || math.IsNaN(float64(*x)) {
			return ""
		}
		return strconv.FormatFloat(float64(*x), 'f', decimals, 64) + " " + unit
	}
	food := linkeddata.Nutrition{
		ServingSize: say.Count("piece", 1), Calories: show("energyKcal", "kcal", 0),
		Fat: show("fatG", "g", 1), Saturated: show("saturatedG", "g", 1), Trans: show("transG", "g", 1),
		Cholesterol: show("cholesterolMg", "mg", 0), Sodium: show("sodiumMg", "mg", 0),
		Carbohydrate: show("carbohydrateG", "g", 1), Fibre: show("fibreG", "g", 1), Sugar: show("sugarsG", "g", 1),
		Protein: show("proteinG", "g", 1),
		Notes:   say.Say("nutrition about"),
	}
	if food.Calories == "" {
		return nil
	}
	return &food
}

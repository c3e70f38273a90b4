package trial

import (
	"bytes"
	"io/fs"
	"path"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// Folder is where a trial is read from.
type Folder struct {
	FS    fs.FS  // the kitchen's content
	Slug  string // the trial's folder in it
	Shown string // how the user named the content folder; problems carry it
}

func (f Folder) shown(name string) string { return path.Join(f.Shown, f.Slug, name) }

// Read reads a trial and its logs. It returns nil only when there is no note to
// speak of; otherwise what could be read, with the rest reported.
func Read(folder Folder, k kitchen.Kitchen, problems *problem.List) *Trial {
	file := folder.shown(NoteFile)
	src, ok := ReadText(folder.FS, path.Join(folder.Slug, NoteFile), file, problems)
	if !ok {
		return nil
	}
	front, prose, proseLine, ok := split(src)
	if !ok {
		problems.Hinted(problem.Pos{File: file, Line: 1, Column: 1}, problem.NoFrontMatter,
			"begin it with a line --- and end the block with another", "the note has no front matter")
		return nil
	}
	doc := yamldoc.Parse(file, 2, front, problems)
	if doc == nil {
		return nil
	}
	m := doc.Map(problems)
	if m == nil {
		return nil
	}
	t := &Trial{
		Slug:      folder.Slug,
		Kitchen:   k,
		Prose:     prose,
		ProseLine: proseLine,
		Files:     []File{{Name: NoteFile, Data: src}},
		Place:     doc.Pos(),
	}
	r := &reader{folder: folder, kitchen: k, problems: problems, trial: t}
	r.note(m)
	m.Done()
	r.compares()
	r.logs()
	r.decimals()
	r.replications()
	return t
}

// split parts a note into its front matter and its prose, and says in which line
// the prose begins. Both fences are lines of three hyphens.
func split(src []byte) (front, prose []byte, proseLine int, ok bool) {
	first, rest, found := bytes.Cut(src, []byte("\n"))
	if !found || !fence(first) {
		return nil, nil, 0, false
	}
	line := 2
	for at := 0; at < len(rest); line++ {
		text, _, _ := bytes.Cut(rest[at:], []byte("\n"))
		end := min(at+len(text)+1, len(rest))
		if fence(text) {
			return rest[:at], rest[end:], line + 1, true
		}
		at = end
	}
	return nil, nil, 0, false
}

func fence(line []byte) bool {
	return string(bytes.TrimRight(line, " \t")) == "---"
}

// reader carries what every part of the reading needs.
type reader struct {
	folder   Folder
	kitchen  kitchen.Kitchen
	problems *problem.List
	trial    *Trial
	dates    dateOrder             // of the logs, where the note says it
	foods    map[string]food.Match // rows of the food table that the note names, by role
}

// note reads the front matter: first what others refer to, then the references.
func (r *reader) note(m *yamldoc.Map) {
	t := r.trial
	t.Title = r.needed(m, "title")
	t.Question = r.needed(m, "question")
	t.Cooked = r.date(m.Get("cooked"))
	t.Published = r.date(m.Get("published"))
	t.By = r.people(m.Get("by"))
	t.Keywords = r.texts(m.Get("keywords"), mostNames, "keywords")
	t.Repeats = r.repeats(m.Get("repeats"))

	r.foods = r.foodRows(m.Get("foods"))
	t.Conditions = r.conditions(m.Get("conditions"))
	r.recipe(m.Need("recipe"))
	r.measures(m.Get("measures"))
	r.samples(m.Need("samples"))
	if f := m.Get("batches"); f != nil {
		_, t.SideBySide = f.OneOf(r.problems, "side by side")
	}
	r.verdict(m.Get("verdict"))
	t.Labels = r.labels(m.Get("labels"))
	t.Allergens = r.allergens(m.Get("allergens"))
	t.Photos = r.photos(m.Get("photos"))
	t.Video = r.video(m.Get("video"))
	r.writtenLogs(m.Get("logs"))
}

// needed reads a text that a note cannot do without.
func (r *reader) needed(m *yamldoc.Map, key string) string {
	f := m.Need(key)
	text, ok := r.short(f)
	if ok && text == "" {
		r.problems.Errorf(f.Pos(), problem.MissingKey, "%s is empty", key)
	}
	return text
}

func (r *reader) text(f *yamldoc.Field) string {
	text, _ := f.Text(r.problems)
	return text
}

func (r *reader) date(f *yamldoc.Field) Date {
	text, ok := f.Text(r.problems)
	if !ok {
		return Date{}
	}
	date, ok := ParseDate(text)
	if !ok {
		r.problems.Hinted(f.Pos(), problem.BadDate, "write year, month and day like 2026-02-14",
			"%q is not a date", text)
	}
	return date
}

func (r *reader) people(f *yamldoc.Field) []string {
	var people []string
	if f == nil {
		return nil
	}
	known := make([]string, 0, len(r.kitchen.People))
	for _, p := range r.kitchen.People {
		known = append(known, p.Key)
	}
	for _, item := range r.items(f, mostNames, "people") {
		name, ok := item.Text(r.problems)
		if !ok {
			continue
		}
		if len(known) > 0 && !r.kitchen.Knows(name) {
			r.problems.Hinted(item.Pos(), problem.UnknownName, problem.DidYouMean(name, known),
				"the kitchen has nobody called %q", name)
			continue
		}
		people = append(people, name)
	}
	return people
}

func (r *reader) conditions(f *yamldoc.Field) []Condition {
	var conditions []Condition
	for _, e := range r.entries(f, mostConditions, "conditions") {
		value, ok := r.short(e.Value)
		if !ok {
			continue
		}
		conditions = append(conditions, Condition{Name: e.Key, Value: value, Place: e.Value.Pos()})
	}
	return conditions
}

package draft

import (
	"bytes"
	"fmt"
	"io/fs"
	"slices"
	"strconv"
	"strings"
	"time"

	"sidebatch.example/sidebatch/internal/bench"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// drafter is a draft on its way.
type drafter struct {
	wish     Wish
	kitchen  kitchen.Kitchen
	mistakes []Mistake

	ingredients, conditions []pair
	samplesOf               []*sample
	measuresOf              []measure

	text    bytes.Buffer
	origins []string // of each line of the text
}

// pair is a name with what stands behind its colon.
type pair struct {
	name, value string
	from        string
}

func (d *drafter) wrong(from, hint, format string, args ...any) {
	m := Mistake{From: from, What: fmt.Sprintf(format, args...), Hint: hint}
	if !slices.Contains(d.mistakes, m) {
		d.mistakes = append(d.mistakes, m)
	}
}

// cut parts "name: value".
func (d *drafter) cut(s Said, example string) (pair, bool) {
	name, value, found := strings.Cut(s.Text, ":")
	p := pair{strings.TrimSpace(name), strings.TrimSpace(value), s.From}
	if !found || p.name == "" || p.value == "" {
		d.wrong(s.From, "write it like "+strconv.Quote(example), "a name, a colon and what it is are needed")
		return p, false
	}
	return p, true
}

// pairs parts a list, and reports names that are said twice.
func (d *drafter) pairs(list []Said, example string, taken ...pair) []pair {
	var all []pair
	for _, s := range list {
		p, ok := d.cut(s, example)
		if !ok {
			continue
		}
		if slices.ContainsFunc(slices.Concat(taken, all), func(o pair) bool { return o.name == p.name }) {
			d.wrong(s.From, "give it another name", "%q is there already", p.name)
			continue
		}
		all = append(all, p)
	}
	return all
}

// counts checks how much is to be made.
func (d *drafter) counts() {
	w := &d.wish
	if w.Pieces == 0 && w.Like != nil && w.Like.Trial.Control() != nil {
		w.Pieces = min(w.Like.Trial.Control().Weighed.Divided, 100)
	}
	if w.Pieces == 0 {
		w.Pieces = 6
	}
	if err := d.run().Check(); err != nil {
		d.wrong("", "", "%v", err)
	}
}

func (d *drafter) run() bench.Run {
	return bench.Run{Batches: d.wish.Batches, Pieces: d.wish.Pieces, Assessors: d.wish.Assessors}
}

// recipe parts the ingredients and conditions that were said.
func (d *drafter) recipe() {
	w := d.wish
	if w.Like == nil {
		d.ingredients = d.pairs(w.Recipe.Ingredients, "flour: 300 g all-purpose flour")
		d.conditions = d.pairs(w.Conditions, "rest: 30 min", d.ingredients...)
		return
	}
	for _, s := range slices.Concat([]Said{w.Recipe.Name, w.Recipe.Makes, w.Recipe.AmountsFor}, w.Recipe.Ingredients,
		w.Recipe.Steps, w.Recipe.Flours, w.Recipe.Beside) {
		if s.Text != "" {
			d.wrong(s.From, "leave it out, and change the note afterwards", "the recipe is that of %s", w.Like.Trial.Slug)
		}
	}
	for _, i := range w.Like.Trial.Recipe.Ingredients {
		d.ingredients = append(d.ingredients, pair{i.Role, "", w.Like.From})
	}
	for _, c := range w.Like.Trial.Conditions {
		d.conditions = append(d.conditions, pair{c.Name, c.Value, w.Like.From})
	}
	d.conditions = append(d.conditions, d.pairs(w.Conditions, "rest: 30 min", slices.Concat(d.ingredients, d.conditions)...)...)
}

// factors are the names that a change may use.
func (d *drafter) factors() []string {
	var names []string
	for _, p := range slices.Concat(d.ingredients, d.conditions) {
		names = append(names, p.name)
	}
	return names
}

// read reads the note back. What is wrong is told about the words that the line holds.
func (d *drafter) read() *trial.Trial {
	var problems problem.List
	slug := d.wish.Slug
	t := trial.Read(trial.Folder{FS: note(d.text.Bytes()), Slug: slug}, d.kitchen, &problems)
	if t != nil {
		t.Check(&problems)
	}
	for _, p := range problems.Sorted() {
		if p.Weight != problem.Error {
			continue
		}
		from := ""
		if p.Pos.Line > 0 && p.Pos.Line <= len(d.origins) {
			from = d.origins[p.Pos.Line-1]
		}
		d.wrong(from, p.Hint, "%s", p.What)
	}
	return t
}

// logs are the blank logs of the trial, the sensory tests' among them.
func (d *drafter) logs(t *trial.Trial) []File {
	var files []File
	run := d.run()
	run.Pieces = 0 // as the note says
	for _, log := range bench.BlankLogs(t, run) {
		files = append(files, File{log.Name, log.Data})
	}
	for _, m := range t.Measures {
		if m.Kind.IsDiscrimination() {
			files = append(files, File{trial.LogName(m.Name), blankSets(m, d.wish.Assessors)})
		}
	}
	return files
}

// blankSets is the log of a sensory test with one set for each assessor.
func blankSets(m trial.Measure, assessors int) []byte {
	heading, row := "assessor,set,odd,picked,note\n", "A%d,1,,,\n"
	if m.Kind == trial.PairedPreference {
		heading, row = "assessor,set,picked,note\n", "A%d,1,,\n"
	}
	log := []byte(heading)
	for n := range assessors {
		log = fmt.Appendf(log, row, n+1)
	}
	return log
}

// note is a file system that holds one note, in whatever folder it is asked for.
type note []byte

func (n note) Open(name string) (fs.File, error) {
	if !strings.HasSuffix(name, "/"+trial.NoteFile) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &open{Reader: bytes.NewReader(n), size: int64(len(n))}, nil
}

// open is the note while it is read, and its own description.
type open struct {
	*bytes.Reader
	size int64
}

func (o *open) Stat() (fs.FileInfo, error) { return info{o.size}, nil }
func (o *open) Close() error               { return nil }

type info struct{ size int64 }

func (i info) Name() string     { return trial.NoteFile }
func (i info) Size() int64      { return i.size }
func (info) Mode() fs.FileMode  { return 0o444 }
func (info) ModTime() time.Time { return time.Time{} }
func (info) IsDir() bool        { return false }
func (info) Sys() any           { return nil }

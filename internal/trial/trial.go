// Package trial reads one trial: its note and its logs, typed, checked, and with
// the place of everything in its file.
//
// Reading goes on after a mistake, so that one run finds them all; what could not
// be read is absent from the result. The package computes no findings and knows
// nothing of pages.
package trial

import (
	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// NoteFile is the name of a trial's note in its folder.
const NoteFile = "trial.md"

// Trial is one comparison.
type Trial struct {
	Slug      string
	Title     string
	Question  string
	Cooked    Date
	Published Date // zero: a note in progress
	By        []string
	Keywords  []string
	Repeats   Repeats

	Kitchen    kitchen.Kitchen
	Recipe     recipe.Recipe   // as the note plans it, full batch
	WrittenFor quantity.Number // the size that the note's amounts are for, as a share of the full batch
	TestedAt   quantity.Number // the size of the test batches, likewise
	Conditions []Condition
	Samples    []*Sample // as in the note; Control says which is the control
	Measures   []Measure
	SideBySide bool // batch 1 of every sample was made in one session, and so on

	Decimals  tabular.Decimals // of the logs, where the note says it
	Verdict   Verdict
	Labels    []Label
	Allergens Allergens
	Photos    []Photo
	Video     Video

	Pieces   []Piece
	Tastings []Tasting
	Sets     []Set
	Probes   []Probe

	Replications []Replication // by number

	Prose     []byte // what follows the front matter
	ProseLine int    // its first line in the note
	Files     []File // the note and its logs as read
	Place     problem.Pos

	ingredientPlaces map[string]problem.Pos // of the recipe's lines, by role

	roleLists  []*yamldoc.Field // flours and beside, until the samples are read
	foodPlaces []yamldoc.Entry  // likewise the roles under foods
}

// File is a file of the trial as it was read, without a byte-order mark and with
// line feeds.
type File struct {
	Name string // "pieces.csv"
	Data []byte
}

// Condition is a process setting with its value in words.
type Condition struct {
	Name  string
	Value string
	Place problem.Pos
}

// Sample is one version of the recipe.
type Sample struct {
	Key     string
	Name    string
	Control bool
	Place   problem.Pos

	Like      *Sample // the sample whose plan this one starts from
	TakenFrom *Sample // the sample whose dough its pieces are

	Plan       recipe.Recipe // full batch
	Conditions []Condition
	Used       []Used // what really went in, where it was noted
	Weighed    recipe.Weighed
	DoughPlace problem.Pos

	namePlace problem.Pos
	change    *changes // until the samples are resolved
}

// Used is the amount of a role that really went into a batch, at the test size.
type Used struct {
	Role   string
	Amount quantity.Amount
	Place  problem.Pos
}

// Control returns the sample that the others are held against, or nil when the
// note names none.
func (t *Trial) Control() *Sample {
	for _, s := range t.Samples {
		if s.Control {
			return s
		}
	}
	return nil
}

// Sample returns the sample with a key, or nil.
func (t *Trial) Sample(key string) *Sample {
	for _, s := range t.Samples {
		if s.Key == key {
			return s
		}
	}
	return nil
}

// Measure returns the measure with a name, or nil.
func (t *Trial) Measure(name string) *Measure {
	for i := range t.Measures {
		if t.Measures[i].Name == name {
			return &t.Measures[i]
		}
	}
	return nil
}

// Ordered returns the samples with the control first.
func (t *Trial) Ordered() []*Sample {
	ordered := make([]*Sample, 0, len(t.Samples))
	control := t.Control()
	if control != nil {
		ordered = append(ordered, control)
	}
	for _, s := range t.Samples {
		if s != control {
			ordered = append(ordered, s)
		}
	}
	return ordered
}

// Planned returns the sample's recipe as it was to be made, at the test size.
func (t *Trial) Planned(s *Sample) recipe.Recipe {
	return s.Plan.Scale(t.TestedAt)
}

// Made returns the sample's recipe as it was made: the plan at the test size,
// with what really went in.
func (t *Trial) Made(s *Sample) recipe.Recipe {
	made := t.Planned(s)
	for _, used := range s.used() {
		if i, ok := made.Ingredient(used.Role); ok {
			i.Amount = used.Amount
			made = made.With(i)
		}
	}
	return made
}

// used is what went into the dough: the sample's own, or that of the one it was
// taken from.
func (s *Sample) used() []Used {
	if s.TakenFrom != nil {
		return s.TakenFrom.used()
	}
	return s.Used
}

// Version returns a sample's planned levels: an ingredient's amount and food, and
// the conditions.
func (t *Trial) Version(s *Sample) design.Version {
	v := design.Version{Name: s.Key}
	for _, i := range s.Plan.Ingredients {
		low, high := i.Amount.Base()
		key := low.String() + "–" + high.String() + " " + i.Amount.Dimension().String() + " " + i.Food + ", " + i.Preparation
		if i.Amount.IsToTaste() {
			key = "to taste " + i.Food
		}
		v.Levels = append(v.Levels, design.Level{
			Factor: design.Factor{Kind: design.Ingredient, Name: i.Role},
			Key:    key,
			Text:   i.Text(t.Kitchen.Instruments),
		})
	}
	for _, c := range s.Conditions {
		v.Levels = append(v.Levels, design.Level{
			Factor: design.Factor{Kind: design.Condition, Name: c.Name},
			Key:    c.Value,
			Text:   c.Value,
		})
	}
	return v
}

// Verdict is what the people decided.
type Verdict struct {
	Prefer    *Sample // nil: none
	BecauseOf []string
	InWords   string
	Place     problem.Pos
	Because   []problem.Pos // a place for each name of BecauseOf
}

// Label holds the nutrients a package states for a serving of a food.
type Label struct {
	Food      string
	Serving   quantity.Amount
	Nutrients []LabelNutrient
	Place     problem.Pos
}

// LabelNutrient is one line of a package's label.
type LabelNutrient struct {
	Name   string // "energy", "saturated"
	Amount quantity.Number
	Unit   string // kcal, g, mg, µg
}

// Photo is a picture of a sample.
type Photo struct {
	Sample string
	File   string // below the trial's folder
	Shows  string // what is to be seen on it; may be empty
	Place  problem.Pos
}

// Video is where the video stands, with its chapters.
type Video struct {
	Address  string
	Chapters []Chapter
}

// Chapter is a place in the video.
type Chapter struct {
	At    quantity.Amount // time from the start
	Title string
}

package page

import (
	"html/template"
	"slices"
)

// Frame is what every page shares: where it stands and what it is called.
type Frame struct {
	Site        string // the kitchen's name
	About       string // the kitchen in one line; shown at the foot
	Language    string // BCP 47 tag of the page's words, as "en"; empty means "en"
	Root        string // from this page to the site's first page: "", "../", "../../"; for the 404 page an absolute path as "/trials/"
	Title       string // of this page, without the site's name
	Description string // one or two sentences for search results and shared links
	Canonical   string // this page's full address; empty where the kitchen has none
	Image       SharedImage
	Kind        string // Open Graph type; empty means "website", a write-up is an "article"
	Crumbs      []Link // the way here from the first page, without this page
	JSONLD      []byte // a JSON-LD value, or nothing
	Styles      string // the style sheet, from the site's root
	Icon        string // the site's icon (SVG), from the site's root; may be empty
	Feed        string // the Atom feed, from the site's root; may be empty
	Note        string // one line at the foot, as who may use the data; may be empty
	Invented    bool   // the data on this page are invented, and the page says so
}

// SharedImage is a picture that stands for a page where a link to it is shown. Without
// an address there is none.
type SharedImage struct {
	Address       string // in full
	Type          string // "image/png"
	Alt           string // what it shows
	Width, Height int    // in pixels
}

// Link is words that lead somewhere. Without an address it is only the words.
type Link struct {
	Text string
	Href string
}

// Sheets are the pages of one trial, as addresses relative to the page that
// shows them. An empty address is a page that does not exist. The page's own
// address is "./".
type Sheets struct {
	WriteUp string
	Recipe  string
	Repeat  string
	Data    string
}

// SampleRef is a sample as it is named everywhere on a page. The letter also
// chooses colour and pattern: A to L have one each, further letters begin again.
type SampleRef struct {
	Letter string // "A", "B"; the control is A
	Name   string
}

// Table is a plain table. Rows are as long as Head; the first cell of a row is
// its header.
type Table struct {
	Caption string
	Head    []string
	Numeric []bool // which columns hold numbers (set to the right); may be shorter than Head
	Rows    [][]string
}

// Figure is a drawing with the numbers it was drawn from.
type Figure struct {
	ID      string // unique on the page; a link target
	Title   string
	Caption string        // a sentence under the title; may be empty
	SVG     template.HTML // with its own title and description
	Table   Table         // the same numbers
}

// Photo is a picture of the bench. Width and Height are those of the widest file, in
// pixels; zero means not known.
type Photo struct {
	Src           string // for browsers that do not choose
	Srcset        string // "photos/a-400.jpg 400w, photos/a-800.jpg 800w"; may be empty
	Alt           string
	Width, Height int
}

// Picture is a photo in the prose.
type Picture struct {
	Photo   Photo
	Caption string // below it; may be empty
	Alone   bool   // a block of its own, not in running text
}

// Sentence is one plain sentence, with a place to read more.
type Sentence struct {
	Text string
	More Link // shown after the sentence; may be empty
}

// Caution is something that can hurt a cook, and who says so.
type Caution struct {
	About   string // "raw flour"
	Words   string
	Sources []Link
}

// WriteUp is the published account of one trial.
type WriteUp struct {
	Frame     Frame
	Sheets    Sheets
	Title     string
	Question  string
	By        []string // people
	Cooked    Date
	Published Date   // empty while the note is in progress
	Size      string // "3 samples, 13 pieces"; may be empty
	Repeats   Link   // the trial that this one repeats; may be empty
	Repeated  []Link // trials that repeat this one
	Answer    Answer
	Samples   []Sample
	Differs   []FactorRow // only what differs
	Same      []string    // what was held the same, as "knead 5 min"
	Contrasts []Contrast
	Panels    []string  // what all samples together, or a discrimination test, came to
	Tray      *Tray     // nil where no piece was tested
	Outcomes  *Outcomes // nil where there are none, or the prose already shows them
	Prose     template.HTML
	Figures   []Figure // those that the prose does not place
	Trust     []Sentence
	AtHome    *AtHome // nil where no viewer repeated it
	Recipe    *RecipeCard
	Balance   []BalanceRow
	Nutrition *Nutrition
	Allergens *Allergens // nil where no ingredient points to one
	Cautions  []Caution
	Video     *Video
}

// Date is a day in words, and as ISO 8601 for machines.
type Date struct {
	Text string // "14 February 2026"
	ISO  string // "2026-02-14"
}

// Support says how far the findings go with a verdict.
type Support string

// The degrees of support. Unstated shows no label.
const (
	Unstated   Support = ""
	Carried    Support = "carried"
	PartCarry  Support = "in part"
	NotCarried Support = "not carried"
)

// Answer is what the people decided, and what the findings say to that.
type Answer struct {
	Words   string     // the verdict in words, or the finding where nobody decided; may be empty
	Prefer  *SampleRef // nil: no sample is preferred
	Because []string   // the measures it rests on, in words
	Support Support
	Finding string // the finding behind it, one or two sentences
}

// Sample is one version of the recipe.
type Sample struct {
	SampleRef
	Control bool
	Origin  string // "a piece of B's dough", "starts from B"; may be empty
	Made    string // "6 pieces, 83 g each", "2 batches of 6"
	Photo   *Photo
}

// FactorRow is one factor across the samples, in the order of WriteUp.Samples.
type FactorRow struct {
	Factor  string
	Href    string // of the factor's page; may be empty
	Planned bool   // meant to differ
	Levels  []Level
}

// Level is what a factor was in one sample. Changed marks those that differ
// from the control. An empty text means that the factor is absent.
type Level struct {
	Text    string
	Changed bool
}

// Contrast is one sample held against another.
type Contrast struct {
	Sample, Against    SampleRef
	Single, Confounded bool // neither: nothing differs
	Within             bool // both come from one dough
	Planned            []Difference
	Unplanned          []Difference
	Findings           []Finding
}

// Difference is a factor with its level in the sample and in the one it is held
// against.
type Difference struct {
	Factor   string
	Sample   string
	Against  string
	Sentence string // says it whole, where levels do not; may be empty
}

// Finding is what one contrast showed on one measure.
type Finding struct {
	Measure    string
	Primary    bool
	Difference string // "+33 points", "−4.2 s"
	Interval   string // "−11 to +70 points"
	P          string // "0.45"
	PAdjusted  string // Holm; empty where one contrast was made
	Test       string // "Fisher's exact test"
	PutBack    string // the same with the set-aside readings; empty where there are none
	Words      string // the finding as a sentence
	Aside      bool   // not what the trial turns on: shown on demand
}

// Tray shows what became of every piece.
type Tray struct {
	Tests   []TrayTest
	Samples []TraySample
}

// Shows reports whether any mark on the tray has this outcome.
func (t Tray) Shows(s State) bool {
	return slices.ContainsFunc(t.Samples, func(sample TraySample) bool {
		return slices.ContainsFunc(sample.Pieces, func(p Piece) bool {
			return slices.ContainsFunc(p.Marks, func(m Mark) bool { return m.State == s })
		})
	})
}

// TrayTest is a measure with two outcomes; its letter stands in the marks.
type TrayTest struct {
	Letter  string
	Measure string
	Asks    string // "rolls up without a crack"
}

// TraySample is a sample's pieces in the order in which they were made.
type TraySample struct {
	SampleRef
	Summary string // "4 of 6 rolled"; may be empty
	Pieces  []Piece
}

// Piece is one unit cooked and tested.
type Piece struct {
	Label    string // "3", or "2.3" for the third piece of batch 2
	Marks    []Mark // one a test, in the order of Tray.Tests
	SetAside string // the reason for the whole piece; empty: it counts
	Note     string
}

// State is the outcome of one test on one piece.
type State string

// The outcomes. Unread means that the cell is empty.
const (
	Unread State = ""
	Pass   State = "pass"
	Fail   State = "fail"
	Yes    State = "yes"
	No     State = "no"
)

// Mark is one reading of the tray.
type Mark struct {
	Letter   string
	Measure  string
	State    State
	SetAside string // the reason for this reading alone; empty: it counts
}

// Outcomes is the outcome table: a row a measure, a column a sample.
type Outcomes struct {
	Samples []SampleRef
	Rows    []OutcomeRow
}

// OutcomeRow is one measure across the samples.
type OutcomeRow struct {
	Measure string
	Asks    string // what it asks, or its unit in words; may be empty
	Primary bool
	Cells   []OutcomeCell
}

// OutcomeCell sums up one sample's readings. Empty fields are left out; a cell
// without a value was not measured.
type OutcomeCell struct {
	Value    string // "4 of 6", "31.2 ± 4.1 s"
	Interval string // "30–90 %"
	Median   string
	Range    string // "28–40 s"
	N        string // empty where the value says it, as "4 of 6"
	SetAside int    // how many readings
}

// RecipeCard is the recipe in a write-up: the full batch with the tested one
// beside it.
type RecipeCard struct {
	Name       string
	Makes      string   // "12 pancakes"
	TestedAt   string   // "half batch"; empty: tested at full size
	Systems    []string // "Metric", "US"; the amounts of a line follow them
	Lines      []RecipeLine
	FullMass   []Amount // of the whole batch, by system; may be empty
	TestedMass []Amount
	Notes      []string // as what the scale can tell
	Steps      []Step
	Times      []Time
}

// Columns is how many columns the table of amounts has.
func (c RecipeCard) Columns() int {
	n := 1 + len(c.Systems)
	if c.TestedAt != "" {
		n += len(c.Systems)
	}
	if c.HasPercents() {
		n++
	}
	return n
}

// HasPercents reports whether any ingredient has a baker's percentage.
func (c RecipeCard) HasPercents() bool {
	return slices.ContainsFunc(c.Lines, func(l RecipeLine) bool { return l.Percent != "" })
}

// RecipeLine is one ingredient. Lines of one group follow each other.
type RecipeLine struct {
	Food        string
	Preparation string
	Group       string // "for the filling"; may be empty
	Full        []Amount
	Tested      []Amount
	Percent     string        // baker's percentage; empty where it has none
	Varies      []SampleLevel // samples that took another amount or food
}

// Amount is a quantity as it is measured in a kitchen.
type Amount struct {
	Text  string // "600 g", "2½ tsp"
	About bool   // through a density or a mean weight: marked "about"
}

// SampleLevel is what something was in one sample.
type SampleLevel struct {
	SampleRef
	Text string
}

// Step is one instruction, with what differed between the samples.
type Step struct {
	Text   string
	Varies []SampleLevel
}

// Time is how long something takes. ISO is an ISO 8601 duration, as "PT20M".
type Time struct {
	Label string
	Text  string
	ISO   string
}

// BalanceRow is a sample's mass: what went in, what was weighed, what was lost.
type BalanceRow struct {
	SampleRef
	In, Weighed, Loss string
	Note              string
}

// Nutrition is one or more tables with what they rest on.
type Nutrition struct {
	Tables  []Table
	Missing []string // ingredients without figures
	Notes   []string
}

// Video is a recording elsewhere.
type Video struct {
	Title    string
	Address  string
	Chapters []Chapter
}

// Chapter is a place in a video. Href may be empty.
type Chapter struct {
	At, Title, Href string
}

package page

import "html/template"

// Recipe is the recipe alone, to cook from and to print.
type Recipe struct {
	Frame      Frame
	Sheets     Sheets
	Name       string
	Makes      string
	Intro      string     // one or two sentences; may be empty
	Follows    *SampleRef // the sample whose version this is; nil where there is one version
	Question   Link       // back to the trial
	Photo      *Photo
	Times      []Time
	Systems    []string // "Metric", "US"; the amounts of a line follow them
	Sizes      []Size
	Percents   []Percent
	Hydration  string
	BakerNotes []string // what a baker reads beside the percentages: salt, leavening, preferments
	Steps      []Step
	Notes      []string // what to mind when the size changes, what the scale can tell
	Cautions   []Caution
	Nutrition  *Nutrition
	Allergens  *Allergens // nil where no ingredient points to one
	TestedNote string     // "every sample was made at half batch"
}

// Columns is how many columns the table of a size has.
func (r Recipe) Columns() int { return 1 + len(r.Systems) }

// Size is the whole list of ingredients at one size. At most twelve are
// switched; further ones are always shown.
type Size struct {
	Label   string // "Full batch"
	Makes   string
	Tested  bool // the trial was made at this size
	Default bool // shown before a reader chooses: full and half
	Lines   []SizeLine
	Mass    []Amount
}

// SizeLine is one ingredient at one size.
type SizeLine struct {
	Food        string
	Preparation string
	Group       string
	Amounts     []Amount // by system
	Note        string   // "beat the egg, take 25 g"
	Spooned     string   // a mass in spoons and cups, for a cook without a scale: "1¼ cups"
	SpoonedBy   string   // the household measure behind it: "1 cup = 120 g"
}

// Percent is an ingredient's baker's percentage.
type Percent struct {
	Food    string
	Percent string
	Flour   bool
}

// Data is where a trial's own numbers are handed out.
type Data struct {
	Frame     Frame
	Sheets    Sheets
	Title     string
	Intro     string
	Results   Download // results.json
	Downloads []Download
	Pieces    *Table // the first rows of the log
	PiecesOf  string // "the first 8 of 13 rows"; empty: all of them
	Source    template.HTML
	Licence   Link
	Cite      string
}

// Download is a file to take away.
type Download struct {
	Name   string
	Href   string
	Format string // "CSV"
	Size   string // "2 kB"
	What   string
}

// Home is the site's first page: the newest answers.
type Home struct {
	Frame   Frame
	About   string
	Cards   []Card
	Archive string // address of the archive
	More    string // "12 trials in the archive"; may be empty
}

// Card is one trial in short.
type Card struct {
	Href     string
	Title    string
	Question string
	Answer   string
	Support  Support
	Prefer   *SampleRef
	By       []string
	Date     Date
	Factors  []string
	Samples  []SampleRef
	Evidence string // "12 pieces in 2 samples"
	Photo    *Photo
	Invented bool
}

// Archive lists every trial, or those of one year or month where the list is divided.
type Archive struct {
	Frame   Frame
	Title   string // "Archive, 2019"; empty on the first page
	Intro   string
	Count   string // "12 trials, 31 contrasts"
	Factors []Link // pages that put all trials of one factor together
	Names   []Link // lists of all such pages, and of those of ingredients
	Years   []ArchivePart
	Months  []ArchivePart // of the year that this page is about
	Filters *Filters
	Script  string // that makes the filters work, from the site's root; empty leaves them out
	All     string // address of the page with the filters; empty on that page
	Newest  int    // how many rows there are where they are not all; else 0
	Rows    []ArchiveRow
	Newer   Link // the page before and the one after this one in time; may be empty
	Older   Link
}

// ArchivePart is one page of a divided archive, as another page lists it.
type ArchivePart struct {
	Page   Link
	Count  string // "93 trials"
	Year   string // "2019"
	Pages  string // its own parts, from its address, parted by spaces: "12/ 11/"; empty where it lists all
	Trials int
}

// ArchiveRow is one trial in a line.
type ArchiveRow struct {
	Href     string
	Title    string
	Question string
	Varied   []Link
	Answer   string
	Support  Support
	Evidence string
	Date     Date
	Facets   Facets
}

// Methods says how amounts, counts and claims are made.
type Methods struct {
	Frame    Frame
	Intro    string
	Sections []MethodSection
}

// MethodSection is one method, with an id that other pages link to.
type MethodSection struct {
	ID    string
	Title string
	HTML  template.HTML
}

// NotFound is shown for an address that leads nowhere. Its Frame.Root is
// absolute, for it is served under any address.
type NotFound struct {
	Frame  Frame
	Newest []Link
}

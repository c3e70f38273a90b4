package page

import "html/template"

// Factor is all that was learned about one factor.
type Factor struct {
	Frame       Frame
	Name        string
	Count       string          // "3 trials, 7 contrasts"
	Measures    []template.HTML // as FactorMeasure renders each
	Trials      []TrialLine     // that varied it, newest first
	Cut         string          // how many of all trials these are; empty where they are all
	Archive     string          // address of the archive with all of them; may be empty
	Downloads   []Download      // every contrast as a file, and what its columns hold
	Ingredients []Link          // the pages of the foods that took its place in a recipe
	Method      string          // address of what adding up means; may be empty
}

// FactorMeasure is what all trials showed about a factor on one measure.
type FactorMeasure struct {
	ID      string // unique on the page; a link target
	Measure string
	Asks    string // what it asks, or its unit in words; may be empty
	Sums    []FactorSum
	CutSums string  // how many of all sums these are; empty where they are all
	Unequal bool    // several trials, but no two of them compare the same levels
	Lone    bool    // one trial only
	Figure  *Figure // nil where nothing can be drawn; without a table, for the rows are one
	Rows    []FactorContrast
	Cut     string // how many of all contrasts these are; empty where they are all
	All     string // address of the file with all of them; empty where Cut is
}

// FactorSum is what the trials add up to that compare the same two levels.
type FactorSum struct {
	Of, Against string // levels; empty is without it
	Why         string // empty, or why nothing is added up: one of the reasons of package findings
	Difference  string // "+33 points"
	Interval    string // "+12 to +55 points"
	P           string // may be empty
	Trials      string // "3 trials", "1 trial and 4 households"
	Readings    string // "36 pieces"
	AgreeP      string // of the test whether the trials agree; empty where there is none
	Apart       bool   // they disagree by more than chance
	Scatter     string // "37 %": how much of their scatter is more than chance; may be empty
	Recipes     string // "2 recipes"; empty where all are of one
}

// FactorContrast is one contrast of a factor in one trial.
type FactorContrast struct {
	Number      string // as in the figure
	Date        Date
	Trial       Link
	Of, Against string // levels; empty is without it
	Also        []string
	Difference  string // empty where nothing could be compared
	Interval    string
	Rests       string // "6 against 7 pieces"
	Repeats     Link   // the trial that this one repeats; may be empty
	AtHome      bool   // of a household that repeated the trial
	Left        bool   // not counted, for another row stands on the same dough
}

// TrialLine is a trial named on another page.
type TrialLine struct {
	Trial  Link
	Date   Date
	Words  string // the answer, or what else matters there; may be empty
	Levels []SampleLevel
	Lines  []string // amounts, as in the recipe
	Also   []Link
}

// Ingredient is every trial that used one food.
type Ingredient struct {
	Frame   Frame
	Name    string
	Row     string   // the food table's description; empty where the table does not have it
	Written []string // how else notes write it
	Count   string   // "12 trials, varied in 3"
	Varied  []TrialLine
	Used    []TrialLine // the same in every sample
	Archive string      // address of the archive with every trial; may be empty

	CutVaried, CutUsed string // how many of all trials these are; empty where they are all
}

// Names lists the pages of factors or of ingredients.
type Names struct {
	Frame   Frame
	Of      string // "factors" or "ingredients"
	Entries []NameEntry
}

// NameEntry is one page in a list of names.
type NameEntry struct {
	Page  Link
	Count string // "3 trials"
}

// Filters are the choices that narrow the archive's list down where a script runs.
type Filters struct {
	Factors, Ingredients, Measures, Years []Choice
	Words                                 string // address of the words of the notes, for the search; from each part where the archive is divided
	Trials                                int    // in the list, or in all parts of it
	Divided                               bool   // the page shows the newest only, and the script fetches the parts
}

// Choice is one value of a filter.
type Choice struct {
	Value string // as in the rows and in the page's address
	Text  string
	Count string
}

// Facets are what a trial is found by. Each is a list of values parted by spaces.
type Facets struct {
	Slug                                  string
	Factors, Ingredients, Measures, Years string
}

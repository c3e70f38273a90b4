package page

// BenchSheet is what lies on the counter while a trial is cooked: what to weigh for
// each sample, the steps, and a grid for the readings.
type BenchSheet struct {
	Frame     Frame
	Sheets    Sheets
	Title     string
	Question  string
	Size      string   // "half batch": the size that the amounts are for
	Cook      []string // "Batch 1: B, A, C": the order that was drawn; may be empty
	Samples   []BenchSample
	Lines     []BenchLine
	Steps     []BenchStep
	Held      []string      // conditions that no step names, as "oven 180 °C"
	Measures  []BenchColumn // the columns of the grid
	Grids     []BenchGrid
	Tasting   string // how what is tasted is noted; may be empty
	Cautions  []Caution
	Allergens *Allergens
	Downloads []Download // the blank logs; empty on a file that stands alone
	Counter   *Counter   // nil on a file that stands alone
}

// BenchSample is a sample on the sheet.
type BenchSample struct {
	SampleRef
	Control bool
	Dough   bool   // weighed out by itself: it has a column of amounts
	Origin  string // "a piece of the dough of B"; may be empty
	Made    string // "6 pieces, 83 g each"; may be empty
}

// Doughs are the samples that are weighed out.
func (b BenchSheet) Doughs() []BenchSample {
	var all []BenchSample
	for _, s := range b.Samples {
		if s.Dough {
			all = append(all, s)
		}
	}
	return all
}

// Columns is how many columns the table of amounts has.
func (b BenchSheet) Columns() int { return 1 + len(b.Doughs()) }

// GridColumns is how many columns the grid of readings has.
func (b BenchSheet) GridColumns() int { return 2 + len(b.Measures) }

// BenchLine is an ingredient across the samples that are weighed out.
type BenchLine struct {
	Food    string
	Group   string
	Amounts []BenchAmount
}

// BenchAmount is what is planned for one sample. An empty text means that the sample
// goes without.
type BenchAmount struct {
	Text    string // "121 g", "about 2.3 g"
	Or      string // how it can be measured as well: "½ tsp"; may be empty
	Food    string // where this sample takes another food or preparation; may be empty
	Changed bool   // other than in the control
}

// BenchStep is one instruction. What differs between the samples stands below it.
type BenchStep struct {
	Text     string
	Settings []BenchSetting
}

// BenchSetting is a condition that differs between the samples.
type BenchSetting struct {
	Condition string
	Levels    []BenchLevel
}

// BenchLevel is a value and the samples that have it.
type BenchLevel struct {
	Samples []SampleRef
	Text    string
}

// BenchGrid is the readings to take of one sample: a row a piece.
type BenchGrid struct {
	SampleRef
	Made string
	Rows []string // "1", or "2.1" for the first piece of batch 2
}

// BenchColumn is a measure on a grid.
type BenchColumn struct {
	Measure string
	Unit    string   // "°C", "min:s"; empty where there is none
	Asks    string   // "rolls up without a crack"; may be empty
	Choices []string // boxes to tick; none: a blank to write in
}

// Ballots are the ballots of a tasting, one for each assessor. They tell nothing of
// what is compared.
type Ballots struct {
	Frame    Frame
	Title    string // what is tasted: "Scallion pancakes"
	Contains []BallotAllergens
	Ballots  []Ballot
}

// BallotAllergens is a list of allergens that are known equally well.
type BallotAllergens struct {
	Strength string // "Contains"
	Names    string
}

// Ballot is what one assessor fills in.
type Ballot struct {
	Assessor string
	Parts    []BallotPart
}

// TestKind is how a part of a ballot is answered.
type TestKind string

// The kinds of parts.
const (
	TestScores     TestKind = ""
	TestTriangle   TestKind = "triangle"
	TestDuoTrio    TestKind = "duo-trio"
	TestMore       TestKind = "more" // 2-AFC and 3-AFC
	TestTetrad     TestKind = "tetrad"
	TestPreference TestKind = "preference"
)

// BallotPart is a set of cups with one question, or all that is scored.
type BallotPart struct {
	Kind    TestKind
	Label   string // "2 of 3": which part of the ballot this is
	Codes   []string
	Choices []string // the codes that can be picked
	First   string   // of a tetrad: the cup that the others are held against
	Asks    string   // of a test for more of something: "which one is saltier?"; may be empty
	Scales  []BallotScale
}

// BallotScale is one thing to note of every cup.
type BallotScale struct {
	Measure   string
	Asks      string
	Boxes     []string // to tick; none: a blank to write in
	Low, High string   // the ends with their words, as "1 tender"; may be empty
	Rank      bool     // the boxes are ranks
	Unit      string   // of what is written in; for a scale with too many steps for boxes, the ends: "0–100"
}

// PouringList is for whoever fills the cups, and must not be seen by who tastes.
type PouringList struct {
	Frame     Frame
	Title     string
	Seed      string
	Samples   []PouringSample
	Assessors []PouringAssessor
	Evenness  []string
	Cautions  []Caution
}

// PouringSample is all cups of one sample, to label before anything is poured.
type PouringSample struct {
	SampleRef
	Cups  string // "24 cups"
	Codes []string
}

// PouringAssessor is what one assessor gets.
type PouringAssessor struct {
	Assessor string
	Parts    []PouringPart
}

// PouringPart is one set, in the order of serving.
type PouringPart struct {
	Label string // "tell apart, set 1", "scores"
	Cups  []PouringCup
}

// PouringCup is one cup.
type PouringCup struct {
	Code string // "413", or "R"
	SampleRef
}

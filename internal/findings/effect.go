package findings

import (
	"sidebatch.example/sidebatch/internal/stats"
	"sidebatch.example/sidebatch/internal/trial"
)

// Limits of the answers. They are conventions, and the methods page names them.
const (
	// Alpha is the size of a test, after Holm's adjustment.
	Alpha = 0.05
	// LeaningAlpha is the p, not adjusted, up to which a difference is a leaning.
	LeaningAlpha = 0.10
	// Power is the chance that "could have shown" stands for.
	Power = 0.80
)

// Kind is the answer of a finding.
type Kind string

// The answers. Nothing is none: there was nothing to compare.
const (
	Differs  Kind = "differs"
	Leans    Kind = "leans"
	NoneSeen Kind = "none seen"
	Nothing  Kind = "nothing to compare"
)

// Unit is what counts as one independent observation.
type Unit string

// The units. Only batches, and pairs of batches, speak of a recipe.
const (
	OfPiece    Unit = "piece"
	OfBatch    Unit = "batch"
	OfAssessor Unit = "assessor"
	OfSet      Unit = "set"
)

// Test names how a p was computed.
type Test string

// The tests. The words are those of results.json.
const (
	FisherTest      Test = "Fisher exact"
	PermutationTest Test = "permutation"
	BlockedTest     Test = "permutation within batches"
	StratifiedTest  Test = "Mantel-Haenszel exact"
	BatchTest       Test = "permutation of batches"
	BatchPairTest   Test = "sign-flip of batch pairs"
	SignedRankTest  Test = "signed-rank"
	SignFlipTest    Test = "sign-flip"
	SignTest        Test = "sign"
	BinomialTest    Test = "binomial exact"
	FriedmanTest    Test = "Friedman exact"
	CochranTest     Test = "Cochran Q exact"
)

// Effect is what one contrast showed on one measure. The embedded outcome is the
// finding: without the readings set aside, and counted in Unit.
type Effect struct {
	Measure trial.Measure
	Outcome

	// PutBack is the same with the readings set aside put back; nil where there are
	// none. Changes says that the answer is then another one.
	PutBack *Outcome
	Changes bool

	// Pieces is what the pieces say about these very batches, where the finding
	// itself counts batches; nil elsewhere.
	Pieces *Outcome
	// Also is a second test of the same question, where the practice has two.
	Also *Outcome

	// Family is how many single-factor contrasts of the measure were adjusted for
	// one another by Holm; 0 where this contrast is not among them.
	Family int
	// Factors are the things that differ in this contrast, without the measure
	// itself. With exactly one the finding is evidence about it.
	Factors     []string
	Confounded  bool // more than one differs: the finding carries no claim about any
	Primary     bool
	Exploratory bool // the trial names no primary measure, or another one

	Detectable *Detectable
	Needed     *Needed

	Words  string
	Method string // the section of the methods page
}

// Outcome is a difference with its uncertainty. Differences are the contrast's
// sample minus the one it is held against, in the base unit of the measure (s, °C,
// mm, g, mL), for shares from −1 to 1, for ranks as rank sums. A number whose Has
// is false means nothing.
type Outcome struct {
	Kind          Kind
	Why           Reason // why there is nothing to compare, or no p
	Unit          Unit   // what the test counts
	Test          Test
	Paired        bool // unit for unit: assessors, or batches of one session or dough
	Of, Against   Group
	Difference    float64
	HasDifference bool
	Interval      stats.Interval // 95 %
	HasInterval   bool
	P             float64 // two-sided, exact
	HasP          bool
	PAdjusted     float64 // by Holm; P itself outside a family
	// Sampled says that arrangements were drawn, and MonteCarloError by how much that
	// may shift P (a standard error).
	Sampled         bool
	MonteCarloError float64
	// SmallestP is the least p that so many units can have at all; 0 where it is not
	// known.
	SmallestP float64

	units [2]stats.Sample // where Student's t applies to them
}

// Group is one side of an outcome.
type Group struct {
	Units    int     // pieces, batches or assessors compared; pairs count on both sides
	Readings int     // that they rest on
	Passes   int     // of the readings, for shares
	Mean     float64 // of the units: of readings, of batch means, or of ranks and scores
	Aside    int     // readings set aside
}

// Reason says why an outcome is without numbers, or without a p.
type Reason string

// The reasons. Alike is the only one that leaves a difference, of 0.
const (
	NoReason    Reason = ""
	NotRead     Reason = "not read"
	AllSetAside Reason = "all set aside"
	OneReading  Reason = "one reading"
	NoPair      Reason = "no pair"
	OnePair     Reason = "one pair"
	Alike       Reason = "alike"
)

// Detectable is the smallest difference that the finding's numbers had an 80 %
// chance to show, at the size of test that Holm leaves it at worst.
type Detectable struct {
	Difference float64 // a size, in the unit of the outcome
	// Rate, for shares, is what a true share of all must have dropped to, or, from
	// the other end, 1 − Rate what one of none must have risen to.
	Rate float64
	// Never: no difference, however large, could have been shown.
	Never bool
}

// Needed is how many units a side would have shown the difference that was seen
// with an 80 % chance. More: that many do not do.
type Needed struct {
	N    int
	More bool
}

// Panel is what several samples together came to before the same assessors.
type Panel struct {
	Measure   trial.Measure
	Samples   []*Sample
	Assessors int // who judged all of them
	LeftOut   int // who did not
	Test      Test
	Kind      Kind
	RankSums  []float64 // by sample
	Statistic float64   // of Friedman, or Cochran's Q
	DF        int
	W         float64 // Kendall's: agreement of the assessors, 0 to 1
	HasW      bool
	P         float64
	HasP      bool

	Sampled         bool
	MonteCarloError float64

	// Critical is the least difference of two rank sums that all pairs looked at
	// together have at most a 5 % chance to reach; for ranks only.
	Critical    int
	HasCritical bool

	Words  string
	Method string
}

// Discrimination is what a discrimination test or a paired preference showed.
type Discrimination struct {
	Measure     trial.Measure
	Of, Against *Sample // as the note compares them; for a preference Right prefer Of
	Unit        Unit    // sets; assessors for a preference asked more than once
	Kind        Kind
	N, Right    int
	Sets        int  // rows of the log
	Assessors   int  // who answered
	Repeated    bool // somebody answered more than once
	Undecided   int  // assessors of a repeated preference who chose each as often
	Factors     []string
	Confounded  bool // the samples differ in more than one thing
	Primary     bool

	Test        Test
	P           float64
	HasP        bool
	Critical    int // answers that are significant at 5 %
	HasCritical bool

	// PD is the share of discriminators, which is below 0 where fewer are right than
	// by guessing; its interval is exact, and absent for repeated sets.
	PD          float64
	HasPD       bool
	Interval    stats.Interval
	HasInterval bool
	DPrime      float64
	HasDPrime   bool
	// Detectable is the share of discriminators that so many answers had an 80 %
	// chance to show.
	Detectable *Detectable

	Words  string
	Method string
}

// Degree says how far the findings go with a verdict. The words are those of pages.
type Degree string

// The degrees.
const (
	Unstated   Degree = ""
	Carried    Degree = "carried"
	InPart     Degree = "in part"
	NotCarried Degree = "not carried"
)

// Support is what the findings say to the verdict.
type Support struct {
	Degree   Degree
	Words    string
	Measures []MeasureSupport // one for each name of because of
}

// MeasureSupport is what the findings of one measure say to the verdict.
type MeasureSupport struct {
	Measure string
	Degree  Degree
	Words   string
}

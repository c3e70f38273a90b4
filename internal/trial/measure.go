package trial

import (
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/wording"
)

// Kind is what sort of thing a measure observes. The words are those of the note.
type Kind string

const (
	Time        Kind = "time"
	Temperature Kind = "temperature"
	Length      Kind = "length"
	Mass        Kind = "mass"
	Volume      Kind = "volume"
	Number      Kind = "number"
	PassOrFail  Kind = "pass or fail"
	YesOrNo     Kind = "yes or no"
	Score       Kind = "score"
	Rank        Kind = "rank"

	Triangle         Kind = "triangle"
	DuoTrio          Kind = "duo-trio"
	TwoAFC           Kind = "two-alternative forced choice"
	ThreeAFC         Kind = "three-alternative forced choice"
	Tetrad           Kind = "tetrad"
	PairedPreference Kind = "paired preference"
)

// Kinds returns all kinds in the order in which they are explained.
func Kinds() []Kind {
	return []Kind{
		Time, Temperature, Length, Mass, Volume, Number, PassOrFail, YesOrNo, Score, Rank,
		Triangle, DuoTrio, TwoAFC, ThreeAFC, Tetrad, PairedPreference,
	}
}

// IsShare reports whether readings are counted: pass or fail, yes or no.
func (k Kind) IsShare() bool { return k == PassOrFail || k == YesOrNo }

// IsNumeric reports whether readings are numbers that have a mean.
func (k Kind) IsNumeric() bool {
	switch k {
	case Time, Temperature, Length, Mass, Volume, Number, Score:
		return true
	}
	return false
}

// IsDiscrimination reports whether the measure is a discrimination or preference
// test, with a log of its own.
func (k Kind) IsDiscrimination() bool {
	switch k {
	case Triangle, DuoTrio, TwoAFC, ThreeAFC, Tetrad, PairedPreference:
		return true
	}
	return false
}

// dimension returns what a measured kind's readings are amounts of.
func (k Kind) dimension() (quantity.Dimension, bool) {
	switch k {
	case Time:
		return quantity.Time, true
	case Temperature:
		return quantity.Temperature, true
	case Length:
		return quantity.Length, true
	case Mass:
		return quantity.Mass, true
	case Volume:
		return quantity.Volume, true
	}
	return quantity.Count, false
}

// standard is the unit that readings without one are in when the note does not
// say: s, °C, mm, g, mL.
func (k Kind) standard() quantity.Unit {
	switch k {
	case Time:
		return quantity.Second
	case Temperature:
		return quantity.Celsius
	case Length:
		return quantity.Millimeter
	case Mass:
		return quantity.Gram
	case Volume:
		return quantity.Milliliter
	}
	return quantity.Each
}

// Source is where a measure's readings stand.
type Source int

const (
	OfPiece   Source = iota // pieces.csv
	OfTasting               // tasting.csv
	OfSets                  // a log named after the measure
	OfParts                 // the sum of other measures: nowhere of its own
)

// Measure is one thing that is observed.
type Measure struct {
	Name     string
	Kind     Kind
	In       quantity.Unit // the unit that a reading without one is in, and that pages show
	Decimals int           // of the readings in that unit, as the log has them; at most 2
	PartOf   string        // the measure that this one is added into
	Parts    []string      // of a sum: the measures added up
	Asks     string        // what a pass means, in words
	From     int           // of a score: the ends of the scale, with their words
	FromIs   string
	To       int
	ToIs     string
	Source   Source

	Primary       bool
	NotControlled bool
	Compares      []string // of a discrimination test: the two samples
	ComparesPlace problem.Pos
	Place         problem.Pos

	Language *wording.Language // that its readings are written in; nil is English
}

// Symbol is the short form of the measure's unit in the language that its readings are
// written in; empty where it has none.
func (m Measure) Symbol() string {
	if m.Language == nil {
		return m.In.Symbol()
	}
	return m.Language.Unit(m.In.Symbol())
}

// Reading is one value of a measure. Value is in the base unit (s, °C, mm, g, mL),
// or 1 and 0 for pass and fail, yes and no.
type Reading struct {
	Value    quantity.Number
	Missing  bool   // an empty cell
	SetAside string // the reason; "" when it counts
	Place    problem.Pos
}

// Counts reports whether the reading goes into the sums.
func (r Reading) Counts() bool { return !r.Missing && r.SetAside == "" }

// Piece is one row of pieces.csv.
type Piece struct {
	Sample   string
	Batch    int // 1 where the log does not say
	Number   string
	Readings map[string]Reading // by measure; a measure without a column has none
	SetAside string             // the reason for the whole piece
	Note     string
	Place    problem.Pos
}

// Tasting is one row of tasting.csv.
type Tasting struct {
	Assessor string
	Sample   string
	Readings map[string]Reading
	Note     string
	Place    problem.Pos
}

// Set is one row of a discrimination log: one set of samples before one assessor.
type Set struct {
	Measure  string
	Assessor string
	Number   string
	Odd      string
	Picked   string
	Place    problem.Pos
}

// Right reports whether the assessor picked the odd one.
func (s Set) Right() bool { return s.Odd == s.Picked }

// Probe is a thermometer log.
type Probe struct {
	Name    string // "pot" of probe-pot.csv
	Probes  []string
	Columns []ProbeColumn // of the log, one a probe
	Rows    []ProbeRow
}

// ProbeColumn is a column of a thermometer log.
type ProbeColumn struct {
	Heading string        // as the log has it: "crumb (°F)"
	In      quantity.Unit // that a reading without a unit is in
}

// ProbeRow is one moment of a thermometer log; gaps stay gaps.
type ProbeRow struct {
	Seconds      quantity.Number // since the first row
	Temperatures []Reading       // °C, one a probe
}

// Readings returns a sample's readings of a measure in the order of the log, one
// for every piece, or for every assessor.
func (t *Trial) Readings(s *Sample, m Measure) []Reading {
	var readings []Reading
	if m.Source == OfTasting {
		for _, row := range t.Tastings {
			if reading, ok := row.Readings[m.Name]; ok && row.Sample == s.Key {
				readings = append(readings, reading)
			}
		}
		return readings
	}
	for _, piece := range t.Pieces {
		if reading, ok := piece.Readings[m.Name]; ok && piece.Sample == s.Key {
			readings = append(readings, reading)
		}
	}
	return readings
}

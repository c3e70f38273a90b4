package problem

// Code names a kind of problem. Every code has an example among the bad notes in
// testdata/problems, and a test fails for a code without one.
type Code string

// The catalogue. The comment says when each is reported.
const (
	// Files.
	Unreadable  Code = "unreadable"   // the file cannot be opened or is larger than the limit
	NotText     Code = "not-text"     // not UTF-8, or it holds a NUL byte
	EmptyFile   Code = "empty-file"   // nothing in it
	BadPicture  Code = "bad-picture"  // a picture that is broken, too large, or of another kind than its name says
	NoAltText   Code = "no-alt-text"  // a picture that nobody described for those who cannot see it
	MissingFile Code = "missing-file" // something names a file that is not there

	// YAML.
	NoFrontMatter Code = "no-front-matter" // trial.md does not open with ---, or the block never closes
	Syntax        Code = "syntax"          // not YAML
	UnknownKey    Code = "unknown-key"     // a key that the format does not have
	DoubledKey    Code = "doubled-key"     // a key written twice
	MissingKey    Code = "missing-key"     // a key that is needed
	WrongType     Code = "wrong-type"      // a list where text belongs, and so on
	TooDeep       Code = "too-deep"        // aliases, anchors, or nesting beyond the limit
	TooMany       Code = "too-many"        // more of something than a trial or a kitchen can have

	// Values.
	BadAmount   Code = "bad-amount"   // an amount that cannot be read
	UnknownUnit Code = "unknown-unit" // a number with a unit nobody knows
	WrongUnit   Code = "wrong-unit"   // a unit of another dimension than is needed
	OutOfRange  Code = "out-of-range" // a number beyond what can be meant
	BadDate     Code = "bad-date"     // a date that is no date
	BadWord     Code = "bad-word"     // a word that is not one of those allowed
	BadAddress  Code = "bad-address"  // an address that is not http(s) or a file of the trial
	UnknownName Code = "unknown-name" // a sample, role, condition, measure or person nobody declared
	DoubledName Code = "doubled-name" // the same name for two things
	Circle      Code = "circle"       // like or taken from that leads back to itself
	OunceLiquid Code = "ounce-liquid" // a bare oz of a liquid: mass or volume?
	NewRole     Code = "new-role"     // a change adds a role that looks like a slip for another
	Impossible  Code = "impossible"   // more came out than went in
	Design      Code = "design"       // what the trial can or cannot show
	Loss        Code = "loss"         // more was lost between bowl and scale than is usual
	Coarse      Code = "coarse"       // an amount that the instrument cannot tell well
	UnknownFood Code = "unknown-food" // an ingredient that the food table does not have
	FreeOf      Code = "free-of"      // "free of" that the name of an ingredient speaks against, or that takes nothing away
	DatedFat    Code = "dated-fat"    // a fat whose figures are older than a ban: the label is asked

	// Logs.
	BadHeader     Code = "bad-header"     // a column missing, doubled or unknown
	BadRow        Code = "bad-row"        // a row of the wrong length, or a quote out of place
	BadReading    Code = "bad-reading"    // a cell that is no reading of its measure
	DoubledPiece  Code = "doubled-piece"  // the same piece of the same batch twice
	UnknownSample Code = "unknown-sample" // a row for a sample that the note does not have
	BadWorkbook   Code = "bad-workbook"   // an .xlsx file that is broken, locked, too large, or has no sheet to read
	TwoLogs       Code = "two-logs"       // the same log as .csv and as .xlsx
	UnsureNumber  Code = "unsure-number"  // a number that can be read in two ways: 1,500
	UnsureTime    Code = "unsure-time"    // a date or time that can be read in two ways: 1/2/2026

	// Prose.
	UnknownTarget Code = "unknown-target" // figure:, table: or value: that names nothing
	BrokenLink    Code = "broken-link"    // an address that leads nowhere
	StaleNumber   Code = "stale-number"   // a checked number that no longer agrees with the log
	SpacedAddress Code = "spaced-address" // a space in an address, so that no link was made
)

// Codes returns the whole catalogue.
func Codes() []Code {
	return []Code{
		Unreadable, NotText, EmptyFile, BadPicture, NoAltText, MissingFile,
		NoFrontMatter, Syntax, UnknownKey, DoubledKey, MissingKey, WrongType, TooDeep, TooMany,
		BadAmount, UnknownUnit, WrongUnit, OutOfRange, BadDate, BadWord, BadAddress,
		UnknownName, DoubledName, Circle, OunceLiquid, NewRole, Impossible, Design, Loss, Coarse, UnknownFood, DatedFat, FreeOf,
		BadHeader, BadRow, BadReading, DoubledPiece, UnknownSample,
		BadWorkbook, TwoLogs, UnsureNumber, UnsureTime,
		UnknownTarget, BrokenLink, StaleNumber, SpacedAddress,
	}
}

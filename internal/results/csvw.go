package results

import (
	"encoding/json"
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// MetadataSuffix is what CSVW appends to a file's name to find its metadata (Model
// for Tabular Data and Metadata on the Web, section 5.3).
const MetadataSuffix = "-metadata.json"

// Table returns a log of the trial as it is published, and its metadata as CSVW has
// them (W3C Recommendation of 17 December 2015).
//
// The published log is RFC 4180: commas, lines that end in CR LF, UTF-8 without a
// byte-order mark, a heading line with the names of the note. It has the rows that
// were read, cell by cell as they were written, without blank rows and without
// space around a cell. A cell that a spreadsheet would take for a formula stands
// behind an apostrophe (see tabular.Guard); numbers stay numbers. Reading it gives
// the same readings as reading the log itself.
//
// A column whose every reading is a plain number is described as one. Where a cell
// has its own unit or is written as minutes and seconds, the column is of text, and
// its description says how to read it.
func Table(t *trial.Trial, file trial.File) (data, metadata []byte, err error) {
	heading, rows := file.Sheet()
	if len(heading) == 0 {
		return nil, nil, fmt.Errorf("%s: no heading", file.Name)
	}
	l, err := logOf(t, file.Name)
	if err != nil {
		return nil, nil, err
	}
	metadata, err = l.metadata(heading, rows)
	return tabular.Write(heading, rows, tabular.CRLF), metadata, err
}

// sheetLog is a log with what is known of its columns.
type sheetLog struct {
	trial   *trial.Trial
	say     wording.Phrases
	name    string
	about   string
	columns map[string]csvColumn // those that are no measure
	measure func(column string) *trial.Measure
	key     []string // the columns that together name a row
}

// The objects of a metadata document, in the order in which they are written.
type csvTable struct {
	Context     []any      `json:"@context"`
	URL         string     `json:"url"`
	Title       string     `json:"dc:title"`
	Description any        `json:"dc:description"`
	Dialect     csvDialect `json:"dialect"`
	Schema      csvSchema  `json:"tableSchema"`
}

type csvDialect struct {
	Encoding        string   `json:"encoding"`
	LineTerminators []string `json:"lineTerminators"`
	Delimiter       string   `json:"delimiter"`
	QuoteChar       string   `json:"quoteChar"`
	DoubleQuote     bool     `json:"doubleQuote"`
	Header          bool     `json:"header"`
	HeaderRowCount  int      `json:"headerRowCount"`
}

type csvSchema struct {
	Columns    []csvColumn `json:"columns"`
	PrimaryKey []string    `json:"primaryKey,omitempty"`
}

type csvColumn struct {
	Name        string   `json:"name,omitempty"`
	Titles      []string `json:"titles"`
	Description any      `json:"dc:description,omitempty"`
	Datatype    any      `json:"datatype"`
	Null        string   `json:"null"`
	Required    bool     `json:"required,omitempty"`
}

type csvDatatype struct {
	Base    string `json:"base"`
	Format  string `json:"format,omitempty"`
	Minimum *int   `json:"minimum,omitempty"`
	Maximum *int   `json:"maximum,omitempty"`
}

func (l sheetLog) metadata(heading []string, rows [][]string) ([]byte, error) {
	table := csvTable{
		Context:     contextIn(l.trial.Kitchen.Language),
		URL:         url.PathEscape(l.name),
		Title:       l.name + ": " + l.trial.Title,
		Description: l.spoken(l.about),
		Dialect:     rfc4180(),
		Schema:      csvSchema{Columns: []csvColumn{}},
	}
	for i, title := range heading {
		cells := make([]string, 0, len(rows))
		for _, row := range rows {
			if row[i] != "" {
				cells = append(cells, row[i])
			}
		}
		table.Schema.Columns = append(table.Schema.Columns, l.column(title, cells))
	}
	for _, name := range l.key {
		if slices.Contains(heading, name) {
			table.Schema.PrimaryKey = append(table.Schema.PrimaryKey, columnName(name))
		}
	}
	data, err := json.MarshalIndent(table, "", "  ")
	return append(data, '\n'), err
}

// contextIn is the context of metadata whose words are in a language.
func contextIn(language string) []any {
	return []any{"http://www.w3.org/ns/csvw", map[string]string{"@language": language}}
}

// rfc4180 is how published tables are written.
func rfc4180() csvDialect {
	return csvDialect{
		Encoding: "utf-8", LineTerminators: []string{"\r\n"}, Delimiter: ",", QuoteChar: `"`,
		DoubleQuote: true, Header: true, HeaderRowCount: 1,
	}
}

func (l sheetLog) spoken(words string) any { return spoken(l.say, l.trial.Kitchen.Language, words) }

// spoken marks words that are not in the kitchen's language, for the theme has none in it.
func spoken(say wording.Phrases, language, words string) any {
	own := say.Language().Name()
	if language == own || strings.HasPrefix(language, own+"-") {
		return words
	}
	return map[string]string{"@value": words, "@language": own}
}

func (l sheetLog) column(title string, cells []string) csvColumn {
	c, known := l.columns[title]
	if words, text := c.Description.(string); text {
		c.Description = l.spoken(words)
	}
	switch m := l.measure(title); {
	case known && title == "batch":
		c.Datatype = csvDatatype{Base: "integer", Minimum: whole(1)}
	case known && title == "time" && allMatch(cells, decimalPattern):
		c.Datatype = csvDatatype{Base: "decimal"}
	case known:
		c.Datatype = "string"
	case m != nil:
		words, datatype := l.describeReadings(*m, cells)
		c.Description, c.Datatype = l.spoken(words), datatype
	default:
		c.Datatype = "string"
	}
	c.Name = columnName(title)
	c.Titles = []string{tabular.Guard(title)}
	if c.Titles[0] != title {
		c.Titles = append(c.Titles, title)
	}
	return c
}

// columnName is a column's name as an address template takes it: its title, escaped,
// which is what CSVW takes by itself where there is no name. One that would begin
// with an escape is left to that.
func columnName(title string) string {
	name := strings.ReplaceAll(url.QueryEscape(title), "+", "%20")
	name = strings.NewReplacer("-", "%2D", "~", "%7E").Replace(name)
	if !namePattern.MatchString(name) {
		return ""
	}
	return name
}

// whole is a bound of a datatype.
func whole(n int) *int { return &n }

var (
	namePattern    = regexp.MustCompile(`^[A-Za-z0-9]([A-Za-z0-9_]|\.[A-Za-z0-9_%]|%[0-9A-F]{2})*$`)
	decimalPattern = regexp.MustCompile(`^[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)$`)
	wholePattern   = regexp.MustCompile(`^\+?[0-9]+$`)
)

func allMatch(cells []string, pattern *regexp.Regexp) bool {
	return !slices.ContainsFunc(cells, func(cell string) bool { return !pattern.MatchString(cell) })
}

// describeReadings says what a measure's readings are, in words and as a datatype.
func (l sheetLog) describeReadings(m trial.Measure, cells []string) (words string, datatype any) {
	switch {
	case m.Kind.IsShare():
		return l.describeShare(m, cells)
	case m.Kind == trial.Rank:
		words = l.say.Say("csv rank")
		if allMatch(cells, wholePattern) {
			return words, csvDatatype{Base: "integer", Minimum: whole(1)}
		}
		return words, "string"
	case m.Kind == trial.Score:
		words = l.say.Say("csv score", "low", end(m.From, m.FromIs), "high", end(m.To, m.ToIs))
		if allMatch(cells, decimalPattern) {
			return words, csvDatatype{Base: "decimal", Minimum: &m.From, Maximum: &m.To}
		}
		return words, "string"
	}
	words = l.inUnit(m)
	if allMatch(cells, decimalPattern) {
		return l.asked(m, words), csvDatatype{Base: "decimal"}
	}
	if m.In.Symbol() != "" {
		words = l.say.Say("csv own unit", "reading", words)
	}
	if m.Kind == trial.Time {
		words = l.say.Say("csv clock", "reading", words)
	}
	return l.asked(m, words), "string"
}

// inUnit says what is measured, and in which unit.
func (l sheetLog) inUnit(m trial.Measure) string {
	symbol := m.In.Symbol()
	switch m.Kind {
	case trial.Time:
		return l.say.Say("csv in time", "unit", symbol)
	case trial.Temperature:
		return l.say.Say("csv in temperature", "unit", symbol)
	case trial.Length:
		return l.say.Say("csv in length", "unit", symbol)
	case trial.Mass:
		return l.say.Say("csv in mass", "unit", symbol)
	case trial.Volume:
		return l.say.Say("csv in volume", "unit", symbol)
	}
	return l.say.Say("csv number")
}

// asked adds what the note asks of a measure.
func (l sheetLog) asked(m trial.Measure, words string) string {
	if m.Asks != "" {
		words = l.say.Say("csv asks", "reading", words, "asks", m.Asks)
	}
	if m.NotControlled {
		words = l.say.Say("csv not controlled", "reading", words)
	}
	return words
}

func end(number int, words string) string {
	return strings.TrimSpace(fmt.Sprintf("%d %s", number, words))
}

// describeShare calls a column Boolean when every cell is one of a pair of words: those
// of the format, or those of the kitchen's language.
func (l sheetLog) describeShare(m trial.Measure, cells []string) (words string, datatype any) {
	passes, yes := [2]string{"pass", "fail"}, [2]string{"yes", "no"}
	ownPasses, ownYes := [2]string{l.say.Say("pass"), l.say.Say("fail")}, [2]string{l.say.Say("yes"), l.say.Say("no")}
	pairs := [][2]string{passes, ownPasses, yes, ownYes}
	if m.Kind == trial.YesOrNo {
		pairs = [][2]string{yes, ownYes, passes, ownPasses}
	}
	words = l.asked(m, KindName(l.say.Language(), m.Kind))
	for _, pair := range append(pairs, [2]string{"true", "false"}, [2]string{"1", "0"}) {
		odd := slices.ContainsFunc(cells, func(cell string) bool { return cell != pair[0] && cell != pair[1] })
		if !odd {
			return words, csvDatatype{Base: "boolean", Format: pair[0] + "|" + pair[1]}
		}
	}
	return words, "string"
}

package results

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
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
// behind an apostrophe (see trial.Guard); numbers stay numbers. Reading it gives
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
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	for _, row := range slices.Concat([][]string{heading}, rows) {
		guarded := make([]string, len(row))
		for i, cell := range row {
			guarded[i] = trial.Guard(cell)
		}
		if err := w.Write(guarded); err != nil {
			return nil, nil, fmt.Errorf("%s: %w", file.Name, err)
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file.Name, err)
	}
	metadata, err = l.metadata(heading, rows)
	return out.Bytes(), metadata, err
}

// sheetLog is a log with what is known of its columns.
type sheetLog struct {
	trial   *trial.Trial
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
		Context:     []any{"http://www.w3.org/ns/csvw", map[string]string{"@language": l.trial.Kitchen.Language}},
		URL:         url.PathEscape(l.name),
		Title:       l.name + ": " + l.trial.Title,
		Description: l.english(l.about),
		Dialect: csvDialect{
			Encoding: "utf-8", LineTerminators: []string{"\r\n"}, Delimiter: ",", QuoteChar: `"`,
			DoubleQuote: true, Header: true, HeaderRowCount: 1,
		},
		Schema: csvSchema{Columns: []csvColumn{}},
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

// english marks words that are not in the kitchen's language.
func (l sheetLog) english(words string) any {
	if language := l.trial.Kitchen.Language; language == "en" || strings.HasPrefix(language, "en-") {
		return words
	}
	return map[string]string{"@value": words, "@language": "en"}
}

func (l sheetLog) column(title string, cells []string) csvColumn {
	c, known := l.columns[title]
	if words, text := c.Description.(string); text {
		c.Description = l.english(words)
	}
	switch m := l.measure(title); {
	case known && title == "batch":
		c.Datatype = csvDatatype{Base: "integer", Minimum: whole(1)}
	case known && title == "time" && allMatch(cells, decimalPattern):
		c.Datatype = csvDatatype{Base: "decimal"}
	case known:
		c.Datatype = "string"
	case m != nil:
		words, datatype := describeReadings(*m, cells)
		c.Description, c.Datatype = l.english(words), datatype
	default:
		c.Datatype = "string"
	}
	c.Name = columnName(title)
	c.Titles = []string{trial.Guard(title)}
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
func describeReadings(m trial.Measure, cells []string) (words string, datatype any) {
	switch {
	case m.Kind.IsShare():
		return describeShare(m, cells)
	case m.Kind == trial.Rank:
		if allMatch(cells, wholePattern) {
			return "a rank, 1 first", csvDatatype{Base: "integer", Minimum: whole(1)}
		}
		return "a rank, 1 first", "string"
	case m.Kind == trial.Score:
		words = fmt.Sprintf("a score from %s to %s", end(m.From, m.FromIs), end(m.To, m.ToIs))
		if allMatch(cells, decimalPattern) {
			return words, csvDatatype{Base: "decimal", Minimum: &m.From, Maximum: &m.To}
		}
		return words, "string"
	}
	words = "a number, without a unit"
	if symbol := m.In.Symbol(); symbol != "" {
		words = fmt.Sprintf("a %s, in %s", m.Kind, symbol)
	}
	if allMatch(cells, decimalPattern) {
		return words + asked(m), csvDatatype{Base: "decimal"}
	}
	if m.In.Symbol() != "" {
		words += " where a cell gives no unit of its own"
	}
	if m.Kind == trial.Time {
		words += "; 1:10 is a minute and ten seconds"
	}
	return words + asked(m), "string"
}

func asked(m trial.Measure) string {
	switch {
	case m.Asks != "" && m.NotControlled:
		return ": " + m.Asks + "; observed, not controlled"
	case m.Asks != "":
		return ": " + m.Asks
	case m.NotControlled:
		return "; observed, not controlled"
	}
	return ""
}

func end(number int, words string) string {
	return strings.TrimSpace(fmt.Sprintf("%d %s", number, words))
}

// describeShare calls a column Boolean when every cell is one of a pair of words.
func describeShare(m trial.Measure, cells []string) (words string, datatype any) {
	pairs := [][2]string{{"pass", "fail"}, {"yes", "no"}}
	if m.Kind == trial.YesOrNo {
		slices.Reverse(pairs)
	}
	words = string(m.Kind) + asked(m)
	for _, pair := range append(pairs, [2]string{"true", "false"}, [2]string{"1", "0"}) {
		odd := slices.ContainsFunc(cells, func(cell string) bool { return cell != pair[0] && cell != pair[1] })
		if !odd {
			return words, csvDatatype{Base: "boolean", Format: pair[0] + "|" + pair[1]}
		}
	}
	return words, "string"
}

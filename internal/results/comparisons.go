package results

import (
	"encoding/json"
	"iter"
	"math"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// ComparisonsFile is every contrast of a factor, beside the factor's page.
const ComparisonsFile = "comparisons.csv"

// ComparisonsHead is the first line of the file, with the names of the columns. They and the
// fixed words in cells are English in every kitchen.
func ComparisonsHead() []byte {
	var heading []string
	for _, c := range comparisonColumns(nil) {
		heading = append(heading, c.Titles[0])
	}
	return tabular.Write(heading, nil, tabular.CRLF)
}

// ComparisonsOn are the lines of the file on one measure, which is settled: every contrast of
// the factor in every trial and household, in the order and the direction of the factor's page,
// RFC 4180, as [Table] writes logs.
func ComparisonsOn(m *findings.MeasureEvidence) []byte {
	return tabular.WriteRows(len(m.Rows)*bytesOfComparison, nil, comparisonRows(m), tabular.CRLF)
}

// bytesOfComparison is how many bytes a row takes, about.
const bytesOfComparison = 192

// comparisonRows are the rows of a measure, each in the place of the one before.
func comparisonRows(m *findings.MeasureEvidence) iter.Seq[[]string] {
	return func(yield func([]string) bool) {
		w := comparisonWriter{m: m, shown: m.Measure.Measure(nil)}
		w.perBase = findings.InUnits(w.shown, 1)
		var cells []string
		for i := range m.Rows {
			if cells = w.row(cells[:0], i); !yield(cells) {
				return
			}
		}
	}
}

// comparisonWriter writes the contrasts of one measure.
type comparisonWriter struct {
	m       *findings.MeasureEvidence
	shown   trial.Measure
	perBase float64 // how many units one of the base unit is, as a difference
	study   *findings.Study
	day     string // of that study
}

// row adds one contrast, cell by cell as [comparisonColumns] has them.
func (w *comparisonWriter) row(cells []string, i int) []string {
	m, r := w.m, w.m.Rows[i]
	if w.study != r.Study {
		w.study, w.day = r.Study, r.Study.Day.String()
	}
	of, against := r.Contrast.Of, r.Contrast.Against
	if r.Turned {
		of, against = against, of
	}
	home := ""
	if r.Household != nil {
		home = r.Household.Name
	}
	cells = append(cells, m.Measure.Name, string(m.Measure.Kind), strconv.Itoa(i+1), r.Study.Slug, w.day, home,
		of, against, r.Of, r.Against, strings.Join(r.Also, "; "))
	switch {
	case r.Answers != nil:
		return append(cells, answerCells(r, w.shown.Kind)...)
	case !r.HasDifference:
		return append(cells, "", "", "", "", "", "", "", "", "", yesNo(false), "", "", "")
	}
	low, high := "", ""
	if r.HasInterval {
		low, high = decimalCell(r.Interval.Low*w.perBase), decimalCell(r.Interval.High*w.perBase)
	}
	unit := ""
	if w.shown.Kind.IsNumeric() && w.shown.Kind != trial.Score {
		unit = w.shown.In.Symbol()
	}
	x, y := r.Effect.Of, r.Effect.Against
	if r.Turned {
		x, y = y, x
	}
	counts := string(r.Effect.Unit)
	if r.Effect.Unit == findings.OfBatch && r.Effect.Paired {
		counts = "pair of batches"
	}
	return append(cells, decimalCell(r.Difference*w.perBase), low, high, unit, counts,
		strconv.Itoa(x.Units), strconv.Itoa(y.Units), strconv.Itoa(x.Readings), strconv.Itoa(y.Readings), yesNo(r.Counted), "", "", "")
}

// answerCells are the last cells of a discrimination test or a preference.
func answerCells(r *findings.EvidenceRow, k trial.Kind) []string {
	a := r.Answers
	preferred, p := "", ""
	if k == trial.PairedPreference {
		preferred = a.Of
	}
	if a.HasP {
		p = decimalCell(a.P)
	}
	return []string{"", "", "", "", string(a.Unit), strconv.Itoa(a.N), "", "", "", yesNo(false), strconv.Itoa(a.Right), preferred, p}
}

// decimalCell writes a number with ten digits, as results.json has numbers.
func decimalCell(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	var room [32]byte
	digits, err := number(x).append(room[:0])
	if err != nil {
		return ""
	}
	return string(digits)
}

func yesNo(is bool) string {
	if is {
		return "yes"
	}
	return "no"
}

// ComparisonsMetadata describes those columns as CSVW has it, for a factor, in the words
// of a theme; language is the kitchen's own.
func ComparisonsMetadata(factor string, l *wording.Language, language string) ([]byte, error) {
	say := phrases(l)
	table := csvTable{
		Context:     contextIn(language),
		URL:         ComparisonsFile,
		Title:       ComparisonsFile + ": " + factor,
		Description: spoken(say, language, say.Say("csv compared about", "factor", factor)),
		Dialect:     rfc4180(),
		Schema:      csvSchema{PrimaryKey: []string{columnName("measure"), columnName("kind"), columnName("number")}},
	}
	for _, c := range comparisonColumns(&say) {
		c.Name = columnName(c.Titles[0])
		c.Description = spoken(say, language, c.Description.(string))
		table.Schema.Columns = append(table.Schema.Columns, c)
	}
	data, err := json.MarshalIndent(table, "", "  ")
	return append(data, '\n'), err
}

// comparisonColumns are the columns of the file, with what they hold where there are
// words to say it.
func comparisonColumns(words *wording.Phrases) []csvColumn {
	say := wording.Phrases{}
	if words != nil {
		say = *words
	}
	column := func(title string, datatype any, holds string) csvColumn {
		return csvColumn{Titles: []string{title}, Datatype: datatype, Description: holds}
	}
	text, decimal, whole := any("string"), any(csvDatatype{Base: "decimal"}), any(csvDatatype{Base: "integer"})
	all := []csvColumn{
		column("measure", text, say.Say("csv compared measure")),
		column("kind", text, say.Say("csv compared kind")),
		column("number", whole, say.Say("csv compared number")),
		column("trial", text, say.Say("csv compared trial")),
		column("day", csvDatatype{Base: "date"}, say.Say("csv compared day")),
		column("household", text, say.Say("csv compared household")),
		column("sample", text, say.Say("csv compared sample")),
		column("against", text, say.Say("csv compared against")),
		column("level", text, say.Say("csv compared level")),
		column("level against", text, say.Say("csv compared level against")),
		column("also differs", text, say.Say("csv compared also")),
		column("difference", decimal, say.Say("csv compared difference")),
		column("low", decimal, say.Say("csv compared low")),
		column("high", decimal, say.Say("csv compared high")),
		column("unit", text, say.Say("csv compared unit")),
		column("counts", text, say.Say("csv compared counts")),
		column("units", whole, say.Say("csv compared units")),
		column("units against", whole, say.Say("csv compared units against")),
		column("readings", whole, say.Say("csv compared readings")),
		column("readings against", whole, say.Say("csv compared readings against")),
		column("added up", csvDatatype{Base: "boolean", Format: "yes|no"}, say.Say("csv compared added up")),
		column("right", whole, say.Say("csv compared right")),
		column("preferred", text, say.Say("csv compared preferred")),
		column("p", decimal, say.Say("csv compared p")),
	}
	for i := range all {
		switch all[i].Titles[0] {
		case "measure", "kind", "number", "trial", "added up":
			all[i].Required = true
		}
	}
	return all
}

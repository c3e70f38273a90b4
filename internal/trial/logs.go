package trial

import (
	"io/fs"
	"path"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// Names of the logs that are not named after a measure.
const (
	PiecesFile  = "pieces.csv"
	TastingFile = "tasting.csv"
)

const (
	logEnd      = ".csv" // of the names under which logs are published
	probePrefix = "probe-"
)

// log is a log with the columns it needs, those it may have, the measures that are
// read from it, and what reads its rows.
type log struct {
	name       string // "pieces.csv", whatever the file is
	needs, may []string
	of         []Measure
	read       func(tabular.Table, []Measure)
	atHome     bool // of a viewer's repeat, which need not have every measure
}

// logs reads every log that lies beside the note. Of what is wrong in a workbook the
// cell's name is told.
func (r *reader) logs() {
	all := r.problems
	r.problems = &problem.List{}
	r.readLogs()
	for _, p := range r.problems.Sorted() {
		all.Add(tabular.Named(p))
	}
	r.problems = all
}

func (r *reader) readLogs() {
	present := r.present()
	known := []string{PiecesFile, TastingFile}
	if of := r.trial.of(OfPiece); len(of) > 0 {
		r.log(present, r.pieceLog(of))
	}
	if of := r.trial.of(OfTasting); len(of) > 0 {
		r.log(present, log{name: TastingFile, needs: []string{"assessor", "sample"}, may: []string{"note"}, of: of, read: r.tastings})
	}
	for _, m := range r.trial.of(OfSets) {
		known = append(known, LogName(m.Name))
		needs, may := setColumns(m)
		r.log(present, log{name: LogName(m.Name), needs: needs, may: may, read: func(t tabular.Table, _ []Measure) { r.sets(m, t) }})
	}
	for _, f := range present {
		switch {
		case strings.HasPrefix(f.log, probePrefix):
			r.probe(f)
		case !slices.Contains(known, f.log):
			r.problems.Ask(problem.Pos{File: r.folder.shown(f.file)}, problem.UnknownName,
				problem.DidYouMean(f.log, known), "nothing in the note reads this log")
		}
	}
}

// pieceLog is the log of pieces.
func (r *reader) pieceLog(of []Measure) log {
	return log{name: PiecesFile, needs: []string{"sample", "piece"}, may: []string{"batch", "set aside", "note"}, of: of, read: r.pieces}
}

// decimals notes for each measure how finely its readings were written, so that
// pages show them no coarser.
func (r *reader) decimals() {
	for i := range r.trial.Measures {
		m := &r.trial.Measures[i]
		if m.Kind == Time || m.Kind.IsShare() || m.Kind.IsDiscrimination() {
			continue
		}
		for _, s := range r.trial.Samples {
			for _, reading := range r.trial.Readings(s, *m) {
				if !reading.Missing {
					m.Decimals = max(m.Decimals, decimalsOf(reading.Value, m.In))
				}
			}
		}
	}
}

// decimalsOf counts the decimals of a value of the base unit, written in another; a
// value that two decimals do not write, having come from another unit, counts none.
func decimalsOf(value quantity.Number, unit quantity.Unit) int {
	written := value
	if dimension := unit.Dimension(); dimension != quantity.Count {
		amount, err := quantity.New(value, dimension.Base()).In(unit)
		if err != nil {
			return 0
		}
		written = amount.Low()
	}
	for decimals, scale := range []int64{1, 10, 100} {
		if written.Mul(quantity.Int(scale)).IsInt() {
			return decimals
		}
	}
	return 0
}

// LogName returns the name of the log of a measure that has one of its own.
func LogName(measure string) string { return strings.ReplaceAll(measure, " ", "-") + logEnd }

// logFile is a file of the trial's folder that is a log by its name.
type logFile struct {
	log  string // "pieces.csv"
	file string // "pieces.csv" or "pieces.xlsx"
}

// present lists the logs of the trial's folder by their names. One that is there both
// as CSV and as a workbook is reported: which of the two counts, nobody can know.
func (r *reader) present() []logFile {
	entries, err := fs.ReadDir(r.folder.FS, r.folder.Slug)
	if err != nil {
		return nil
	}
	var all []logFile
	for _, e := range entries {
		end := path.Ext(e.Name())
		hidden := strings.HasPrefix(e.Name(), ".") || strings.HasPrefix(e.Name(), "~$") // what spreadsheets leave beside an open file
		if hidden || !strings.EqualFold(end, logEnd) && !tabular.IsWorkbook(e.Name()) {
			continue
		}
		f := logFile{log: e.Name(), file: e.Name()}
		if tabular.IsWorkbook(e.Name()) {
			f.log = strings.TrimSuffix(e.Name(), end) + logEnd
		}
		if i := slices.IndexFunc(all, func(o logFile) bool { return o.log == f.log }); i >= 0 {
			r.problems.Hinted(problem.Pos{File: r.folder.shown(f.file)}, problem.TwoLogs, "keep the one that counts, and move the other away",
				"%s lies here as well: which of the two is the log?", all[i].file)
			continue
		}
		all = append(all, f)
	}
	return all
}

// log reads a log and hands it on. A published trial needs its logs; one in
// progress may still be waiting for them.
func (r *reader) log(present []logFile, l log) {
	at := slices.IndexFunc(present, func(f logFile) bool { return f.log == l.name })
	if at < 0 {
		if !r.trial.Published.IsZero() {
			r.problems.Hinted(problem.Pos{File: r.folder.shown(NoteFile)}, problem.MissingFile,
				"put it beside the note", "there is no %s with the readings", l.name)
		}
		return
	}
	r.take(r.table(present[at].file, tabular.Wanted{Columns: l.columns()}), l)
}

// columns are those that the log may have.
func (l log) columns() []string {
	columns := slices.Concat(l.needs, l.may)
	for _, m := range l.of {
		columns = append(columns, m.Name)
	}
	return columns
}

// take reads a log's rows and keeps it. It returns the table with its numbers settled.
func (r *reader) take(table tabular.Table, l log) tabular.Table {
	measures, ok := r.columns(table, l)
	var numeric []string
	for _, m := range measures {
		if m.Kind.IsNumeric() || m.Kind == Rank {
			numeric = append(numeric, m.Name)
		}
	}
	settled, changed := table.Settle(numeric, r.trial.Decimals, r.problems)
	r.keep(l.name, settled, table.AsIs && !changed)
	if ok {
		l.read(settled, measures)
	}
	return settled
}

// table reads a file of the trial's folder as a table.
func (r *reader) table(file string, w tabular.Wanted) tabular.Table {
	w.File, w.Problems = r.folder.shown(file), r.problems
	w.Sheet = strings.TrimSuffix(file, path.Ext(file))
	data, ok := readBytes(r.folder.FS, path.Join(r.folder.Slug, file), w.File, r.problems)
	if !ok {
		return tabular.Table{}
	}
	return tabular.Read(data, w)
}

// keep keeps a log as it will be published: as it was written where that is plain
// CSV, and in that form where it is not.
func (r *reader) keep(name string, t tabular.Table, asIs bool) {
	heading, rows := t.Texts()
	if len(heading) == 0 {
		return
	}
	f := File{Name: name, Data: t.Text}
	if !asIs {
		f.Data = tabular.Write(heading, rows, tabular.LF)
	}
	r.trial.Files = append(r.trial.Files, f)
}

// of lists the measures whose readings stand in a log.
func (t *Trial) of(source Source) []Measure {
	var measures []Measure
	for _, m := range t.Measures {
		if m.Source == source {
			measures = append(measures, m)
		}
	}
	return measures
}

// columns checks a log's heading: the columns it needs, those it may have, and one
// for every measure that is read from it. It returns the measures that have one, and
// whether the rows can be read.
func (r *reader) columns(t tabular.Table, l log) (measures []Measure, ok bool) {
	if len(t.Heading()) == 0 {
		return nil, false
	}
	ok = true
	place := t.Heading()[0].Place
	for _, name := range l.needs {
		if !t.HasColumn(name) {
			r.problems.Errorf(place, problem.BadHeader, "there is no column %q", name)
			ok = false
		}
	}
	known := slices.Concat(l.needs, l.may)
	for _, m := range l.of {
		known = append(known, m.Name)
		if !t.HasColumn(m.Name) {
			if !l.atHome {
				r.problems.Ask(place, problem.BadHeader, "", "there is no column for the measure %q", m.Name)
			}
			continue
		}
		measures = append(measures, m)
	}
	for _, c := range t.Heading() {
		if c.Text != "" && !slices.Contains(known, c.Text) {
			r.problems.Hinted(c.Place, problem.BadHeader, problem.DidYouMean(c.Text, known), "no measure is called %q", c.Text)
		}
	}
	return measures, ok
}

// writtenLogs reads what the note says of how its logs are written, where they can
// be read in more ways than one.
func (r *reader) writtenLogs(f *yamldoc.Field) {
	if f == nil {
		return
	}
	m := f.Map(r.problems)
	if m == nil {
		return
	}
	if decimals := m.Get("decimals"); decimals != nil {
		word, _ := decimals.OneOf(r.problems, "comma", "point")
		r.trial.Decimals = map[string]tabular.Decimals{"comma": tabular.DecimalComma, "point": tabular.DecimalPoint}[word]
	}
	if dates := m.Get("dates"); dates != nil {
		word, _ := dates.OneOf(r.problems, dayFirst.String(), monthFirst.String(), yearFirst.String())
		for _, order := range []dateOrder{dayFirst, monthFirst, yearFirst} {
			if order.String() == word {
				r.dates = order
			}
		}
	}
	m.Done()
}

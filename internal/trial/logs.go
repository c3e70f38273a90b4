package trial

import (
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
)

const (
	piecesFile  = "pieces.csv"
	tastingFile = "tasting.csv"
	probePrefix = "probe-"
)

// logs reads every log that lies beside the note.
func (r *reader) logs() {
	present := r.present()
	known := []string{piecesFile, tastingFile}
	if len(r.trial.of(OfPiece)) > 0 {
		r.log(present, piecesFile, r.pieces)
	}
	if len(r.trial.of(OfTasting)) > 0 {
		r.log(present, tastingFile, r.tastings)
	}
	for _, m := range r.trial.of(OfSets) {
		name := LogName(m.Name)
		known = append(known, name)
		r.log(present, name, func(s sheet) { r.sets(m, s) })
	}
	for _, name := range present {
		switch {
		case strings.HasPrefix(name, probePrefix):
			r.log(present, name, func(s sheet) { r.probe(name, s) })
		case !slices.Contains(known, name):
			r.problems.Ask(problem.Pos{File: r.folder.shown(name)}, problem.UnknownName,
				problem.DidYouMean(name, known), "nothing in the note reads this log")
		}
	}
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
func LogName(measure string) string { return strings.ReplaceAll(measure, " ", "-") + ".csv" }

// present lists the CSV files of the trial's folder.
func (r *reader) present() []string {
	entries, err := fs.ReadDir(r.folder.FS, r.folder.Slug)
	if err != nil {
		return nil
	}
	var names []string
	for _, e := range entries {
		if strings.EqualFold(path.Ext(e.Name()), ".csv") && !strings.HasPrefix(e.Name(), ".") {
			names = append(names, e.Name())
		}
	}
	return names
}

// log reads a log and hands it on. A published trial needs its logs; one in
// progress may still be waiting for them.
func (r *reader) log(present []string, name string, read func(sheet)) {
	file := r.folder.shown(name)
	if !slices.Contains(present, name) {
		if !r.trial.Published.IsZero() {
			r.problems.Hinted(problem.Pos{File: r.folder.shown(NoteFile)}, problem.MissingFile,
				"put it beside the note", "there is no %s with the readings", name)
		}
		return
	}
	data, ok := ReadText(r.folder.FS, path.Join(r.folder.Slug, name), file, r.problems)
	if !ok {
		return
	}
	r.trial.Files = append(r.trial.Files, File{Name: name, Data: data})
	read(readSheet(file, data, r.problems))
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
// for every measure that is read from it. It returns the measures that have one.
func (r *reader) columns(s sheet, needs, may []string, read []Measure) []Measure {
	if s.heading == nil || r.semicolons(s) {
		return nil
	}
	place := s.heading[0].Place
	for _, name := range needs {
		if !s.has(name) {
			r.problems.Errorf(place, problem.BadHeader, "there is no column %q", name)
		}
	}
	var measures []Measure
	known := append(slices.Clone(needs), may...)
	for _, m := range read {
		known = append(known, m.Name)
		if !s.has(m.Name) {
			r.problems.Ask(place, problem.BadHeader, "", "there is no column for the measure %q", m.Name)
			continue
		}
		measures = append(measures, m)
	}
	for _, c := range s.heading {
		if c.Text != "" && !slices.Contains(known, c.Text) {
			r.problems.Hinted(c.Place, problem.BadHeader, problem.DidYouMean(c.Text, known), "no measure is called %q", c.Text)
		}
	}
	return measures
}

// semicolons reports a file whose cells are parted by semicolons, once, instead of
// every column that is missing then.
func (r *reader) semicolons(s sheet) bool {
	if len(s.heading) > 1 || !strings.Contains(s.heading[0].Text, ";") {
		return false
	}
	r.problems.Hinted(s.heading[0].Place, problem.BadHeader, "save it as CSV with commas between the cells",
		"the cells are parted by semicolons")
	return true
}

// sampleCell checks the reference to a sample.
func (r *reader) sampleCell(c cell) bool {
	if r.trial.Sample(c.Text) != nil {
		return true
	}
	r.problems.Hinted(c.Place, problem.UnknownSample, problem.DidYouMean(c.Text, r.trial.sampleKeys()),
		"no sample is called %q", c.Text)
	return false
}

func (r *reader) pieces(s sheet) {
	measures := r.columns(s, []string{"sample", "piece"}, []string{"batch", "set aside", "note"}, r.trial.of(OfPiece))
	if !s.has("sample") || !s.has("piece") {
		return
	}
	seen := map[string]bool{}
	for _, row := range s.rows {
		p, ok := r.piece(row, measures)
		if !ok {
			continue
		}
		key := p.Sample + "\x00" + strconv.Itoa(p.Batch) + "\x00" + p.Number
		if seen[key] {
			r.problems.Errorf(row.get("piece").Place, problem.DoubledPiece, "piece %s of %s stands here twice", p.Number, p.Sample)
			continue
		}
		seen[key] = true
		r.trial.Pieces = append(r.trial.Pieces, p)
	}
}

func (r *reader) piece(row row, measures []Measure) (Piece, bool) {
	p := Piece{
		Sample:   row.get("sample").Text,
		Number:   row.get("piece").Text,
		Note:     row.get("note").Text,
		Batch:    1,
		Readings: make(map[string]Reading, len(measures)),
		Place:    row.Place,
	}
	ok := r.sampleCell(row.get("sample"))
	if p.Number == "" {
		r.problems.Errorf(row.get("piece").Place, problem.BadReading, "the piece has no number")
		ok = false
	}
	if c := row.get("batch"); c.Text != "" {
		n, err := strconv.Atoi(c.Text)
		if err != nil || n < 1 || n > 1000 {
			r.problems.Hinted(c.Place, problem.BadReading, "batches are numbered 1, 2, 3 …", "%s is no batch", quote(c.Text))
			ok = false
		}
		p.Batch = n
	}
	for _, m := range measures {
		p.Readings[m.Name] = r.reading(m, row.get(m.Name))
	}
	r.setAside(&p, row.get("set aside"))
	r.addUp(&p)
	return p, ok
}

// setAside reads "torn by hand", which sets the whole piece aside, or
// "side 1, side 2: pan not yet hot", which sets only those readings aside.
// Several of the second kind are parted by semicolons.
func (r *reader) setAside(p *Piece, c cell) {
	if c.Text == "" {
		return
	}
	for _, part := range strings.Split(c.Text, ";") {
		names, reason, partial := strings.Cut(part, ":")
		measures := r.namedMeasures(names, c.Place)
		if !partial || measures == nil {
			p.SetAside = c.Text
			break
		}
		reason = strings.TrimSpace(reason)
		if reason == "" {
			r.problems.Hinted(c.Place, problem.BadReading, "say why, like side 1: pan not yet hot",
				"readings set aside without a reason")
			reason = "no reason given"
		}
		for _, name := range measures {
			reading := p.Readings[name]
			reading.SetAside = reason
			p.Readings[name] = reading
		}
	}
	if p.SetAside == "" {
		return
	}
	for name, reading := range p.Readings {
		reading.SetAside = p.SetAside
		p.Readings[name] = reading
	}
}

// namedMeasures reads a list of measures; nil when it is not one. A list that
// names some measure and something else is a slip, and so is a word close to one.
func (r *reader) namedMeasures(list string, at problem.Pos) []string {
	var named, unknown []string
	for _, word := range strings.Split(list, ",") {
		word = strings.TrimSpace(word)
		m := r.trial.Measure(word)
		switch {
		case m == nil:
			unknown = append(unknown, word)
		case m.Source == OfParts:
			named = append(named, m.Parts...)
		default:
			named = append(named, m.Name)
		}
	}
	for _, word := range unknown {
		near := problem.Nearest(word, r.trial.measureNames())
		if len(named) == 0 && near == "" {
			return nil
		}
		r.problems.Hinted(at, problem.UnknownName, problem.DidYouMean(word, r.trial.measureNames()),
			"set aside names %q, which is no measure", word)
		if named == nil {
			named = []string{}
		}
	}
	return named
}

// addUp computes the sums of a piece. A sum is missing when a part is, and set
// aside when a part is.
func (r *reader) addUp(p *Piece) {
	for _, m := range r.trial.Measures {
		if m.Source != OfParts {
			continue
		}
		sum := Reading{Place: p.Place}
		for _, part := range m.Parts {
			reading, ok := p.Readings[part]
			sum.Missing = sum.Missing || !ok || reading.Missing
			if sum.SetAside == "" {
				sum.SetAside = reading.SetAside
			}
			sum.Value = sum.Value.Add(reading.Value)
		}
		if sum.Missing {
			sum.Value = quantity.Number{}
		}
		p.Readings[m.Name] = sum
	}
}

func (r *reader) tastings(s sheet) {
	measures := r.columns(s, []string{"assessor", "sample"}, []string{"note"}, r.trial.of(OfTasting))
	if !s.has("assessor") || !s.has("sample") {
		return
	}
	seen := map[string]bool{}
	for _, row := range s.rows {
		t := Tasting{
			Assessor: row.get("assessor").Text,
			Sample:   row.get("sample").Text,
			Note:     row.get("note").Text,
			Readings: make(map[string]Reading, len(measures)),
			Place:    row.Place,
		}
		if !r.sampleCell(row.get("sample")) || !r.assessorCell(row.get("assessor")) {
			continue
		}
		if key := t.Assessor + "\x00" + t.Sample; seen[key] {
			r.problems.Errorf(row.Place, problem.DoubledPiece, "%s scored %s twice", t.Assessor, t.Sample)
			continue
		} else {
			seen[key] = true
		}
		for _, m := range measures {
			t.Readings[m.Name] = r.reading(m, row.get(m.Name))
		}
		r.trial.Tastings = append(r.trial.Tastings, t)
	}
}

func (r *reader) assessorCell(c cell) bool {
	if c.Text == "" {
		r.problems.Errorf(c.Place, problem.BadReading, "the row names no assessor")
	}
	return c.Text != ""
}

package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/trial"
)

// Log is a log to be written beside the note.
type Log struct {
	Name string // "tasting.csv"
	Data []byte
	Rows int
}

// Returned is what filled-in ballots came to.
type Returned struct {
	Logs   []Log
	Absent []string // assessors of the key whose ballots are blank
}

// ballots reads filled-in ballots.
type ballots struct {
	key      *Tasting
	trial    *trial.Trial
	file     string
	problems *problem.List
	sittings map[sittingID]sitting
	cups     map[string]Cup // by code, without references
	rows     []tabular.Row
	filled   map[string]bool // assessors who handed something in
	scores   map[string]tabular.Row
	answers  map[sittingID]tabular.Row
}

// ReadBallots turns filled-in ballots into the logs of the trial, codes into samples
// by the key. Every mistake is reported with its place: a code or an assessor that
// the key does not have, a row that is missing or doubled, a value off its scale, a
// rank given twice, a choice between other cups than were served. When there is any,
// the result is not to be used.
//
// An empty cell stands for a reading that was not taken, and needs a word under
// note, so that it is not mistaken for one that was forgotten. An assessor whose
// rows are all empty was not there.
func (k *Tasting) ReadBallots(t *trial.Trial, file string, data []byte, problems *problem.List) Returned {
	b := &ballots{
		key: k, trial: t, file: file, problems: problems,
		sittings: map[sittingID]sitting{}, cups: map[string]Cup{}, filled: map[string]bool{},
		scores: map[string]tabular.Row{}, answers: map[sittingID]tabular.Row{},
	}
	for _, s := range k.sittings() {
		b.sittings[s.id()] = s
		for _, c := range s.cups {
			if c.Code != Reference {
				b.cups[c.Code] = c
			}
		}
	}
	heading := ballotHeading(t)
	table := tabular.Read(data, tabular.Wanted{File: file, Columns: heading, Problems: problems})
	if !columns(table, heading[:len(heading)-1], []string{"note"}, problems) {
		return Returned{}
	}
	table, _ = table.Settle(names(scoredMeasures(t)), t.Decimals, problems)
	b.rows = table.Rows()
	for _, row := range b.rows {
		b.sort(row)
	}
	return b.finish()
}

// sort finds out whose row it is, and of which cup or set.
func (b *ballots) sort(row tabular.Row) {
	assessor, at := row.Cell("assessor")
	if !slices.Contains(b.key.Assessors(), assessor) {
		if assessor == "" {
			b.problems.Errorf(row.Place(), problem.BadReading, "the row names no assessor")
		} else {
			b.problems.Hinted(at, problem.UnknownName, problem.DidYouMean(assessor, b.key.Assessors()), "the key has no assessor %q", assessor)
		}
		return
	}
	if !b.isBlank(row) {
		b.filled[assessor] = true
	}
	if test, at := row.Cell("test"); test != "" {
		b.sortAnswer(row, assessor, test, at)
		return
	}
	code, at := row.Cell("code")
	cup, known := b.cups[code]
	switch {
	case !known:
		b.unknownCode(code, at, b.codesOf(assessor, ""))
	case cup.Test != "":
		b.problems.Errorf(at, problem.UnknownName, "the cup %s was served in the test %q and is not scored", code, cup.Test)
	case cup.Assessor != assessor:
		b.problems.Errorf(at, problem.UnknownName, "the cup %s was served to %s, not to %s", code, cup.Assessor, assessor)
	default:
		if first, doubled := b.scores[code]; doubled {
			b.problems.Errorf(at, problem.DoubledPiece, "the cup %s stands in line %d already", code, first.Place().Line)
			return
		}
		b.scores[code] = row
	}
}

func (b *ballots) sortAnswer(row tabular.Row, assessor, test string, at problem.Pos) {
	tests := names(testMeasures(b.trial))
	if !slices.Contains(tests, test) {
		b.problems.Hinted(at, problem.UnknownName, problem.DidYouMean(test, tests), "the note has no sensory test %q", test)
		return
	}
	text, at := row.Cell("set")
	set, err := strconv.Atoi(text)
	id := sittingID{assessor, test, set}
	s, known := b.sittings[id]
	if err != nil || !known {
		b.problems.Errorf(at, problem.UnknownName, "%s had no set %q of %s", assessor, text, test)
		return
	}
	if first, doubled := b.answers[id]; doubled {
		b.problems.Errorf(row.Place(), problem.DoubledPiece, "set %d of %s for %s stands in line %d already", set, test, assessor, first.Place().Line)
		return
	}
	b.answers[id] = row
	codes, at := row.Cell("code")
	if served := s.codes(); codes != "" && !slices.Equal(strings.Fields(codes), served) {
		b.problems.Hinted(at, problem.UnknownName, "it had "+strings.Join(served, " "), "set %d of %s for %s had other codes than %q", set, test, assessor, codes)
	}
}

// unknownCode reports a code that nobody has, with the one that was probably meant.
func (b *ballots) unknownCode(code string, at problem.Pos, among []string) {
	if code == "" {
		b.problems.Errorf(at, problem.BadReading, "the row names no code")
		return
	}
	// A code of three digits is near another when one digit is wrong.
	b.problems.Hinted(at, problem.UnknownName, problem.DidYouMean(code, among), "no cup has the code %q", code)
}

// codesOf are the codes that an assessor had: those of a test, or those scored.
func (b *ballots) codesOf(assessor, test string) []string {
	var codes []string
	for _, c := range b.key.Cups {
		if c.Assessor == assessor && c.Test == test && c.Code != Reference {
			codes = append(codes, c.Code)
		}
	}
	return codes
}

// isBlank reports whether nothing was filled in.
func (b *ballots) isBlank(row tabular.Row) bool {
	for _, column := range ballotHeading(b.trial)[4:] {
		if text, _ := row.Cell(column); text != "" {
			return false
		}
	}
	return true
}

// finish checks what is there against the key, in its order, and makes the logs.
func (b *ballots) finish() Returned {
	var r Returned
	tasted := map[string]bool{}
	for _, s := range b.key.sittings() {
		switch {
		case !b.filled[s.assessor]:
			if !tasted[s.assessor] {
				r.Absent = append(r.Absent, s.assessor)
			}
		case s.test == "":
			b.checkScores(s)
		default:
			b.checkAnswer(s)
		}
		tasted[s.assessor] = true
	}
	if b.problems.Errors() > 0 {
		return Returned{}
	}
	if len(b.filled) == 0 {
		b.problems.Errorf(problem.Pos{File: b.file}, problem.EmptyFile, "nothing is filled in")
		return Returned{}
	}
	if log := b.tastingLog(); log.Rows > 0 {
		r.Logs = append(r.Logs, log)
	}
	for _, m := range testMeasures(b.trial) {
		if log := b.testLog(m); log.Rows > 0 {
			r.Logs = append(r.Logs, log)
		}
	}
	return r
}

// checkScores checks what an assessor noted of each cup.
func (b *ballots) checkScores(s sitting) {
	for _, c := range s.cups {
		if _, has := b.scores[c.Code]; !has {
			b.problems.Hinted(problem.Pos{File: b.file}, problem.BadRow, "what was not tasted has a row with a word under note",
				"there is no row of %s for the cup %s", s.assessor, c.Code)
		}
	}
	for _, m := range scoredMeasures(b.trial) {
		given := ranks{lines: map[int]int{}, most: len(s.cups)}
		for _, c := range s.cups {
			row, has := b.scores[c.Code]
			if !has {
				continue
			}
			text, at := row.Cell(m.Name)
			if text == "" {
				b.needsNote(row, at, m.Name)
				continue
			}
			if what, hint := m.CheckReading(text, b.trial.Kitchen); what != "" {
				b.problems.Hinted(at, problem.BadReading, hint, "%s: %s", m.Name, what)
			} else if m.Kind == trial.Rank {
				b.checkRank(m, text, at, given)
			}
		}
	}
}

// ranks are those that an assessor has given, each with its line.
type ranks struct {
	lines map[int]int
	most  int
}

// checkRank asks for the ranks 1 to the number of cups, each once.
func (b *ballots) checkRank(m trial.Measure, text string, at problem.Pos, given ranks) {
	hint := fmt.Sprintf("the ranks are 1 to %d, each once", given.most)
	rank, err := strconv.Atoi(text)
	line, doubled := given.lines[rank]
	switch {
	case err != nil || rank > given.most:
		b.problems.Hinted(at, problem.BadReading, hint, "%s: %q is off the scale", m.Name, text)
	case doubled:
		b.problems.Hinted(at, problem.DoubledPiece, hint, "%s: the rank %d stands in line %d already", m.Name, rank, line)
	default:
		given.lines[rank] = at.Line
	}
}

func (b *ballots) needsNote(row tabular.Row, at problem.Pos, what string) {
	if note, _ := row.Cell("note"); note == "" {
		b.problems.Hinted(at, problem.BadReading, "what was left out on purpose has a word under note", "nothing stands under %s", what)
	}
}

// checkAnswer checks the choice of one set.
func (b *ballots) checkAnswer(s sitting) {
	row, has := b.answers[s.id()]
	if !has {
		b.problems.Hinted(problem.Pos{File: b.file}, problem.BadRow, "what was not tasted has a row with a word under note",
			"there is no row of %s for set %d of %s", s.assessor, s.set, s.test)
		return
	}
	picked, at := row.Cell("picked")
	choices := s.choices(b.trial.Measure(s.test).Kind)
	switch {
	case picked == "":
		b.needsNote(row, at, "picked")
	case slices.Contains(choices, picked):
	case slices.Contains(s.codes(), picked):
		b.problems.Hinted(at, problem.UnknownName, "the choice was between "+strings.Join(choices, ", "), "the cup %s was not to be picked", picked)
	default:
		hint := problem.DidYouMean(picked, choices)
		if hint == "" {
			hint = "the choice was between " + strings.Join(choices, ", ")
		}
		b.problems.Hinted(at, problem.UnknownName, hint, "the set had no cup %q", picked)
	}
}

// tastingLog is what was scored and ranked: by assessor, the samples as in the note.
func (b *ballots) tastingLog() Log {
	measures := names(scoredMeasures(b.trial))
	var rows [][]string
	for _, s := range b.key.sittings() {
		if s.test != "" || !b.filled[s.assessor] {
			continue
		}
		for _, sample := range b.trial.Samples {
			for _, c := range s.cups {
				if c.Sample != sample.Key {
					continue
				}
				cells := []string{s.assessor, sample.Key}
				for _, column := range append(slices.Clone(measures), "note") {
					text, _ := b.scores[c.Code].Cell(column)
					cells = append(cells, text)
				}
				rows = append(rows, cells)
			}
		}
	}
	heading := slices.Concat([]string{"assessor", "sample"}, measures, []string{"note"})
	return Log{Name: trial.TastingFile, Data: table(heading, rows), Rows: len(rows)}
}

// testLog is what was picked in one test. Of a preference it names the sample.
func (b *ballots) testLog(m trial.Measure) Log {
	var rows [][]string
	for _, s := range b.key.sittings() {
		if s.test != m.Name || !b.filled[s.assessor] {
			continue
		}
		row := b.answers[s.id()]
		picked, _ := row.Cell("picked")
		note, _ := row.Cell("note")
		if m.Kind == trial.PairedPreference {
			rows = append(rows, []string{s.assessor, strconv.Itoa(s.set), b.cups[picked].Sample, note})
			continue
		}
		rows = append(rows, []string{s.assessor, strconv.Itoa(s.set), s.right(), picked, note})
	}
	heading := []string{"assessor", "set", "odd", "picked", "note"}
	if m.Kind == trial.PairedPreference {
		heading = []string{"assessor", "set", "picked", "note"}
	}
	return Log{Name: trial.LogName(m.Name), Data: table(heading, rows), Rows: len(rows)}
}

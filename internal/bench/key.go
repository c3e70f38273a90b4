package bench

import (
	"regexp"
	"slices"
	"strconv"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/trial"
)

// keyReader reads a key back.
type keyReader struct {
	trial    *trial.Trial
	problems *problem.List
	seen     map[string]problem.Pos // codes
	tasting  *Tasting
}

var codePattern = regexp.MustCompile(`^[1-9][0-9]{2}$`)

// ReadKey reads the key of a tasting of the trial, as KeyCSV writes it. What is wrong is
// reported, and then the key is not to be used.
func ReadKey(t *trial.Trial, file string, data []byte, problems *problem.List) *Tasting {
	r := keyReader{trial: t, problems: problems, seen: map[string]problem.Pos{}, tasting: &Tasting{Trial: t.Slug}}
	table := tabular.Read(data, tabular.Wanted{File: file, Columns: keyHeading(), Problems: problems})
	if !columns(table, keyHeading(), nil, problems) {
		return r.tasting
	}
	for _, row := range table.Rows() {
		if c, ok := r.cup(row); ok {
			r.tasting.Cups = append(r.tasting.Cups, c)
		}
	}
	if len(r.tasting.Cups) == 0 && problems.Errors() == 0 {
		problems.Errorf(problem.Pos{File: file}, problem.EmptyFile, "the key has no cups")
	}
	r.sets(file)
	return r.tasting
}

// columns checks a heading: all that are needed, and no others than may stand there.
func columns(table tabular.Table, needs, may []string, problems *problem.List) bool {
	heading := table.Heading()
	if len(heading) == 0 {
		return false
	}
	before := problems.Errors()
	for _, need := range needs {
		if !table.HasColumn(need) {
			problems.Errorf(heading[0].Place, problem.BadHeader, "there is no column %q", need)
		}
	}
	known := slices.Concat(needs, may)
	for _, c := range heading {
		if c.Text != "" && !slices.Contains(known, c.Text) {
			problems.Hinted(c.Place, problem.BadHeader, problem.DidYouMean(c.Text, known), "a column %q does not belong here", c.Text)
		}
	}
	return problems.Errors() == before
}

// cup reads one row of the key.
func (r *keyReader) cup(row tabular.Row) (Cup, bool) {
	text := func(column string) string { s, _ := row.Cell(column); return s }
	at := func(column string) problem.Pos { _, p := row.Cell(column); return p }
	before := r.problems.Errors()
	if slug := text("trial"); slug != r.trial.Slug {
		r.problems.Errorf(at("trial"), problem.UnknownName, "this is the key of the trial %q, not of %q", slug, r.trial.Slug)
	}
	c := Cup{Assessor: text("assessor"), Test: text("test"), Code: text("code"), Sample: text("sample"), Right: text("right") == "yes"}
	if c.Assessor == "" {
		r.problems.Errorf(at("assessor"), problem.BadReading, "the row names no assessor")
	}
	if c.Test != "" && r.kindOf(c.Test) == "" {
		r.problems.Hinted(at("test"), problem.UnknownName, problem.DidYouMean(c.Test, names(testMeasures(r.trial))),
			"the note has no sensory test %q", c.Test)
	}
	if r.trial.Sample(c.Sample) == nil {
		r.problems.Hinted(at("sample"), problem.UnknownSample, problem.DidYouMean(c.Sample, keys(r.trial)), "no sample is called %q", c.Sample)
	}
	c.Set = r.number(text("set"), at("set"), c.Test != "")
	c.Place = r.number(text("place"), at("place"), true)
	isReference := c.Code == Reference && r.kindOf(c.Test) == trial.DuoTrio
	first, doubled := r.seen[c.Code]
	switch {
	case isReference:
	case !codePattern.MatchString(c.Code):
		r.problems.Errorf(at("code"), problem.BadReading, "%q is no three-digit code", c.Code)
	case doubled:
		r.problems.Errorf(at("code"), problem.DoubledPiece, "the code %s stands in line %d already", c.Code, first.Line)
	}
	r.seen[c.Code] = at("code")
	return c, r.problems.Errors() == before
}

func (r *keyReader) number(text string, at problem.Pos, needed bool) int {
	if text == "" && !needed {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 1000 || !needed {
		r.problems.Errorf(at, problem.BadReading, "%q is not the number of a set or a place", text)
	}
	return n
}

// kindOf is the kind of a sensory test, or "".
func (r *keyReader) kindOf(test string) trial.Kind {
	for _, m := range testMeasures(r.trial) {
		if m.Name == test {
			return m.Kind
		}
	}
	return ""
}

// sets checks that every set of a test has one right answer, a preference none, and
// that no set stands in two pieces.
func (r *keyReader) sets(file string) {
	seen := map[sittingID]bool{}
	for _, s := range r.tasting.sittings() {
		right := 0
		for _, c := range s.cups {
			if c.Right {
				right++
			}
		}
		want := 1
		if kind := r.kindOf(s.test); kind == "" || kind == trial.PairedPreference {
			want = 0
		}
		if r.problems.Errors() == 0 && right != want {
			r.problems.Errorf(problem.Pos{File: file}, problem.BadReading, "set %d of %s for %s has %d right answers", s.set, s.test, s.assessor, right)
		}
		if r.problems.Errors() == 0 && seen[s.id()] {
			r.problems.Errorf(problem.Pos{File: file}, problem.BadRow, "the rows of %s do not stand together", s.assessor)
		}
		seen[s.id()] = true
	}
}

// sittingID names a sitting.
type sittingID struct {
	assessor, test string
	set            int
}

func (s sitting) id() sittingID { return sittingID{s.assessor, s.test, s.set} }

func names(measures []trial.Measure) []string {
	var all []string
	for _, m := range measures {
		all = append(all, m.Name)
	}
	return all
}

func keys(t *trial.Trial) []string {
	var all []string
	for _, s := range t.Samples {
		all = append(all, s.Key)
	}
	return all
}

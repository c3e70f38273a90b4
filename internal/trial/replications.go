package trial

import (
	"cmp"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/tabular"
	"sidebatch.example/sidebatch/internal/wording"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// What viewers' repeats of a trial lie in, below its folder: a log a household, called
// household-1.csv and so on, and the names of those who agreed to be named.
const (
	ReplicationsFolder = "replications"
	PeopleFile         = "people.yaml"
)

const (
	householdPrefix = "household-"
	publishedPrefix = ReplicationsFolder + "-" // of a household's log among a trial's data
	mostHouseholds  = 9999
)

// Replication is a viewer's repeat of the trial: what one household cooked and read.
type Replication struct {
	Number int
	Key    string // "household-3"
	Name   string // as people.yaml has it; else "Household 3" in the kitchen's language
	Named  bool   // by people.yaml
	Pieces []Piece
	File   File // its log, under the name that it is published by
	Place  problem.Pos
}

// HouseholdKey names a household.
func HouseholdKey(n int) string { return householdPrefix + strconv.Itoa(n) }

// HouseholdNumber is the number in the name of a household's log, or 0 for another file.
func HouseholdNumber(file string) int {
	digits, named := strings.CutPrefix(strings.TrimSuffix(file, logEnd), householdPrefix)
	n, err := strconv.Atoi(digits)
	if !named || err != nil || n < 1 || n > mostHouseholds || HouseholdKey(n)+logEnd != file {
		return 0
	}
	return n
}

// HouseholdFile is where a household's log lies, below the trial's folder.
func HouseholdFile(key string) string { return path.Join(ReplicationsFolder, key+logEnd) }

// IsReplication reports whether a published file is the log of a household.
func IsReplication(published string) bool {
	file, is := strings.CutPrefix(published, publishedPrefix)
	return is && HouseholdNumber(file) > 0
}

// Replication returns the household whose log lies in a file below the trial's folder, or
// is published under that name; nil for another file.
func (t *Trial) Replication(file string) *Replication {
	for i := range t.Replications {
		if r := &t.Replications[i]; file == HouseholdFile(r.Key) || file == r.File.Name {
			return r
		}
	}
	return nil
}

// phrases are the few words that reading needs: the section "trial" of the words file.
func (t *Trial) phrases() wording.Phrases {
	l := t.Kitchen.Words
	if l == nil {
		l = wording.English()
	}
	return l.Of("trial")
}

// replications reads what viewers sent, and who of them is named.
func (r *reader) replications() {
	entries, err := fs.ReadDir(r.folder.FS, path.Join(r.folder.Slug, ReplicationsFolder))
	if err != nil {
		return // there is none
	}
	named := false
	for _, e := range entries {
		n := HouseholdNumber(e.Name())
		switch {
		case n > 0 && len(r.trial.Replications) == mostRepeats:
			r.tooMany(problem.Pos{File: r.folder.shown(HouseholdFile(HouseholdKey(n)))}, mostRepeats, "households")
			return
		case n > 0:
			r.replication(n)
		case e.Name() == PeopleFile:
			named = true
		case isLogName(e.Name()):
			r.problems.Ask(problem.Pos{File: r.folder.shown(path.Join(ReplicationsFolder, e.Name()))}, problem.UnknownName,
				"what gather takes in is called household-1.csv, household-2.csv …", "nothing reads this log")
		}
	}
	slices.SortFunc(r.trial.Replications, func(a, b Replication) int { return cmp.Compare(a.Number, b.Number) })
	if named {
		r.named()
	}
}

func isLogName(name string) bool {
	hidden := strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$")
	return !hidden && (strings.EqualFold(path.Ext(name), logEnd) || tabular.IsWorkbook(name))
}

// replication reads the log of one household. It was written by gather, so its numbers
// have decimal points, however the kitchen's own logs are written.
func (r *reader) replication(n int) {
	key := HouseholdKey(n)
	file := HouseholdFile(key)
	shown := r.folder.shown(file)
	data, ok := readBytes(r.folder.FS, path.Join(r.folder.Slug, file), shown, r.problems)
	if !ok {
		return
	}
	at := r.homeLog(shown, data, tabular.DecimalPoint)
	r.trial.Replications = append(r.trial.Replications, Replication{
		Number: n, Key: key, Pieces: at.Pieces, Place: problem.Pos{File: shown},
		Name: r.trial.phrases().Say("household", "n", strconv.Itoa(n)),
		File: File{Name: publishedPrefix + key + logEnd, Data: at.kept},
	})
}

// homeLog reads the log of somebody who repeated the trial: a log of pieces, in which a
// measure that they could not take may have no column. Rows in which nothing is filled in
// are pieces that were not made.
func (r *reader) homeLog(shown string, data []byte, decimals tabular.Decimals) HomeLog {
	of := r.trial.of(OfPiece)
	if len(of) == 0 {
		r.problems.Errorf(problem.Pos{File: shown}, problem.BadHeader, "the trial measures nothing of its pieces, so that no household's log can be read")
		return HomeLog{}
	}
	var found problem.List
	own, apart := *r.trial, *r
	own.Pieces, own.Files, own.Decimals = nil, nil, decimals
	apart.trial, apart.problems = &own, &found
	l := apart.pieceLog(of)
	l.atHome = true
	table := tabular.Read(data, tabular.Wanted{File: shown, Sheet: "pieces", Columns: l.columns(), Problems: &found})
	h := HomeLog{trial: r.trial}
	if !apart.isTasting(table) {
		h.table = apart.take(table, l)
		h.Pieces = slices.DeleteFunc(own.Pieces, blank)
	}
	for _, f := range own.Files {
		h.kept = f.Data
	}
	if len(h.Pieces) == 0 && found.Errors() == 0 {
		found.Errorf(problem.Pos{File: shown}, problem.EmptyFile, "no reading is filled in")
	}
	for _, p := range found.Sorted() {
		r.problems.Add(p)
	}
	return h
}

// isTasting reports, and says, that a log is one of a tasting.
func (r *reader) isTasting(t tabular.Table) bool {
	if !t.HasColumn("assessor") || t.HasColumn("piece") {
		return false
	}
	r.problems.Hinted(t.Heading()[0].Place, problem.BadHeader, "send the log of the pieces",
		"this is the log of a tasting: who tasted at home is not known, so tastings of households are not added up")
	return true
}

// blank reports whether nothing was noted of a piece.
func blank(p Piece) bool {
	if p.SetAside != "" {
		return false
	}
	for _, reading := range p.Readings {
		if !reading.Missing {
			return false
		}
	}
	return true
}

// named reads who is behind which household, of those who agreed to be named.
func (r *reader) named() {
	file := path.Join(ReplicationsFolder, PeopleFile)
	shown := r.folder.shown(file)
	data, ok := ReadText(r.folder.FS, path.Join(r.folder.Slug, file), shown, r.problems)
	if !ok {
		return
	}
	var known []string
	for _, at := range r.trial.Replications {
		known = append(known, at.Key)
	}
	doc := yamldoc.Parse(shown, 1, data, r.problems)
	if doc.Kind() == yamldoc.Empty {
		return
	}
	for _, e := range doc.Entries(r.problems) {
		name, ok := e.Value.Text(r.problems)
		at := slices.Index(known, e.Key)
		switch {
		case at < 0:
			r.problems.Hinted(e.KeyPos, problem.UnknownName, problem.DidYouMean(e.Key, known), "there is no log of %q here", e.Key)
		case ok && strings.TrimSpace(name) == "":
			r.problems.Hinted(e.KeyPos, problem.MissingKey, "write the name, or leave the line out", "%s has no name", e.Key)
		case ok:
			r.trial.Replications[at].Name, r.trial.Replications[at].Named = strings.TrimSpace(name), true
		}
	}
}

// RepeatedBy is the trial as one household repeated it: its pieces in the place of the
// kitchen's own, and nothing that only the kitchen knows, such as what it weighed or
// decided. The recipe is the plan, for what really went in at home was not sent.
func (t *Trial) RepeatedBy(r Replication) *Trial {
	own := *t
	own.Pieces = r.Pieces
	own.Cooked, own.By, own.Verdict = Date{}, nil, Verdict{}
	own.Tastings, own.Sets, own.Probes, own.Replications = nil, nil, nil, nil
	own.Prose, own.Files, own.Photos, own.Video = nil, nil, nil, Video{}
	copies := make(map[*Sample]*Sample, len(t.Samples))
	for _, s := range t.Samples {
		at := *s
		at.Used, at.Weighed = nil, recipe.Weighed{}
		copies[s] = &at
	}
	own.Samples = make([]*Sample, 0, len(t.Samples))
	for _, s := range t.Samples {
		at := copies[s]
		at.Like, at.TakenFrom = copies[s.Like], copies[s.TakenFrom]
		own.Samples = append(own.Samples, at)
	}
	return &own
}

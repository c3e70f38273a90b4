package trial

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/tabular"
)

const ownLog = "sample,piece,side 1,side 2,surface,width,done,soft\nshort,1,40,30,300,4,no,2\nlong,1,60,30,310,5,yes,4\n"

// repeated reads the plain note with files in its folder of replications.
func repeated(t testing.TB, files map[string]string) (*Trial, problem.List) {
	t.Helper()
	content := fstest.MapFS{"rice/" + NoteFile: {Data: []byte(plainNote)}, "rice/" + PiecesFile: {Data: []byte(ownLog)}}
	for name, text := range files {
		content["rice/"+ReplicationsFolder+"/"+name] = &fstest.MapFile{Data: []byte(text)}
	}
	var problems problem.List
	read := Read(Folder{FS: content, Slug: "rice", Shown: "content"}, kitchen.Default(), &problems)
	if read == nil {
		t.Fatal(problems.Sorted())
	}
	return read, problems
}

// homeRows is a log of a household: a piece that was not made, one set aside, one of
// which a reading is, and no column for the width.
const homeRows = `sample,batch,piece,side 1,side 2,surface,done,soft,set aside
short,1,1,45,31,180 °C,no,2,
short,1,2,,,,,,
long,1,1,1:05,33,185 °C,yes,4,side 1: set aside by the household
long,1,2,66,35,188 °C,yes,5,set aside by the household
`

func TestReplications(t *testing.T) {
	read, problems := repeated(t, map[string]string{
		"household-10.csv": homeRows, "household-2.csv": homeRows,
		PeopleFile: "# who agreed\nhousehold-10: Ada Fenn\n", "README.txt": "anything",
	})
	if problems.Len() > 0 {
		t.Fatal(problems.Sorted())
	}
	var names []string
	for _, r := range read.Replications {
		names = append(names, r.Key+" is "+r.Name)
	}
	if want := []string{"household-2 is Household 2", "household-10 is Ada Fenn"}; !slices.Equal(names, want) {
		t.Fatalf("%q, want %q", names, want)
	}
	first := read.Replications[0]
	if first.Named || !read.Replications[1].Named || first.File.Name != "replications-household-2.csv" || string(first.File.Data) != homeRows {
		t.Errorf("%+v", first)
	}
	if len(first.Pieces) != 3 {
		t.Fatalf("%d pieces, want 3: one was not made", len(first.Pieces))
	}
	if r := first.Pieces[0].Readings["surface"]; r.Value.String() != "180" {
		t.Errorf("180 °C is read as %s", r.Value)
	}
	if r, read := first.Pieces[0].Readings["width"]; read {
		t.Errorf("a width without a column: %+v", r)
	}
	if p := first.Pieces[1]; p.SetAside != "" || p.Readings["side 1"].SetAside == "" || p.Readings["side 2"].SetAside != "" || p.Readings["cook time"].SetAside == "" {
		t.Errorf("%+v", p)
	}
	if len(read.Pieces) != 2 || len(read.Files) != 2 {
		t.Errorf("the kitchen's own: %d pieces, %d files", len(read.Pieces), len(read.Files))
	}
	for _, name := range []string{"replications/household-10.csv", "replications-household-10.csv"} {
		if r := read.Replication(name); r == nil || r.Number != 10 {
			t.Errorf("%s: %+v", name, r)
		}
	}
	if read.Replication("pieces.csv") != nil || IsReplication("replications-people.yaml") || !IsReplication("replications-household-3.csv") {
		t.Error("what is a replication, and what is not")
	}
}

// TestAsideWithoutColumn: what no column has cannot be set aside, and is no reading of 0.
func TestAsideWithoutColumn(t *testing.T) {
	read, _ := repeated(t, nil)
	var problems problem.List
	h := read.ReadHome("log.csv", []byte("sample,piece,soft,set aside\nshort,1,2,\"width, soft: wet\"\n"), &problems)
	if r, read := h.Pieces[0].Readings["width"]; read || h.Pieces[0].Readings["soft"].SetAside != "wet" {
		t.Errorf("%+v", r)
	}
}

// TestReplicationProblems: where each is told.
func TestReplicationProblems(t *testing.T) {
	tests := []struct{ name, file, text, want string }{
		{"a name for nobody", PeopleFile, "household-1: Ada Fenn\nhousehold-3: Piet\n", `content/rice/replications/people.yaml:2:1: there is no log of "household-3" here (did you mean household-1?)`},
		{"no name", PeopleFile, "household-1:\n", "content/rice/replications/people.yaml:1:13: nothing where text belongs"},
		{"a list of names", PeopleFile, "- Ada\n", "content/rice/replications/people.yaml:1:1: a list where a group of keys belongs"},
		{"a sample that is not there", "household-2.csv", "sample,piece,soft\nshrt,1,2\n", `content/rice/replications/household-2.csv:2:1: no sample is called "shrt" (did you mean short?)`},
		{"a measure that is not there", "household-2.csv", "sample,piece,sotf\nshort,1,2\n", `content/rice/replications/household-2.csv:1:14: no measure is called "sotf" (did you mean soft?)`},
		{"nothing read", "household-2.csv", "sample,piece,soft\nshort,1,\n", "content/rice/replications/household-2.csv: no reading is filled in"},
		{"a tasting", "household-2.csv", "assessor,sample,chew\nA,short,2\n", "content/rice/replications/household-2.csv:1:1: this is the log of a tasting"},
		{"another name", "house-2.csv", homeRows, "content/rice/replications/house-2.csv: question: nothing reads this log"},
		{"a number with a nought", "household-02.csv", homeRows, "content/rice/replications/household-02.csv: question: nothing reads this log"},
		{"a comma in a number", "household-2.csv", "sample,piece,width\nshort,1,\"4,5\"\n", "content/rice/replications/household-2.csv:2:9: “4,5” has a comma"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			files := map[string]string{"household-1.csv": homeRows, tt.file: tt.text}
			_, problems := repeated(t, files)
			found := problems.Sorted()
			if len(found) != 1 && tt.name != "a measure that is not there" || !slices.ContainsFunc(found, func(p problem.Problem) bool { return strings.HasPrefix(p.String(), tt.want) }) {
				t.Errorf("got %v\nwant %s", found, tt.want)
			}
		})
	}
}

// TestRepeatedBy: the household's pieces in a trial of its own, which shares nothing that
// could be changed with the kitchen's.
func TestRepeatedBy(t *testing.T) {
	read, _ := repeated(t, map[string]string{"household-1.csv": homeRows})
	read.Samples[1].Used = []Used{{Role: "rice"}}
	read.Samples[1].TakenFrom, read.Samples[1].Like = read.Samples[0], read.Samples[0]
	read.Verdict.Prefer = read.Samples[1]
	at := read.RepeatedBy(read.Replications[0])
	switch {
	case len(at.Pieces) != 3 || len(at.Replications) != 0 || at.Verdict.Prefer != nil || len(at.By) != 0:
		t.Errorf("%+v", at)
	case at.Samples[1].Used != nil || len(read.Samples[1].Used) != 1:
		t.Error("what really went in is the kitchen's alone")
	case at.Samples[0] == read.Samples[0] || at.Samples[1].TakenFrom != at.Samples[0] || at.Samples[1].Like != at.Samples[0]:
		t.Error("samples are shared with the kitchen's")
	}
}

// sentLogs draws logs as somebody at home may fill them in, with remarks and numbers of
// pieces of their own.
func sentLogs() *rapid.Generator[string] {
	cell := func(words ...string) *rapid.Generator[string] { return rapid.SampledFrom(append(words, "")) }
	return rapid.Custom(func(t *rapid.T) string {
		var rows [][]string
		for i := range rapid.IntRange(1, 8).Draw(t, "pieces") {
			number := rapid.SampledFrom([]string{"", "secret ", "=secret"}).Draw(t, "before") + string(rune('1'+i))
			rows = append(rows, []string{
				rapid.SampledFrom([]string{"short", "long"}).Draw(t, "sample"),
				cell("1", "2").Draw(t, "batch"), number,
				cell("40", "1:10", "1 min 5 s", "62.5").Draw(t, "side 1"), cell("30", "33 s").Draw(t, "side 2"),
				cell("181.5 °C", "350").Draw(t, "surface"), cell("4", "1.5 in", "45 mm").Draw(t, "width"),
				cell("yes", "no", "Y").Draw(t, "done"), cell("1", "2.5", "5").Draw(t, "soft"),
				cell("secret", "side 1: secret", "side 1, width: secret; soft: my secret", "cook time: secret").Draw(t, "set aside"),
				cell("secret", "-secret", `the "secret", again`).Draw(t, "note"),
			})
		}
		heading := []string{"sample", "batch", "piece", "side 1", "side 2", "surface", "width", "done", "soft", "set aside", "note"}
		return string(tabular.Write(heading, rows, tabular.CRLF))
	})
}

// TestKeptAsSent: what is kept of a log reads back as the same readings, set aside or not
// as they were; anonymously, none of the sender's words is in it.
func TestKeptAsSent(t *testing.T) {
	read, _ := repeated(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		var problems problem.List
		sent := read.ReadHome("inbox/log.csv", []byte(sentLogs().Draw(t, "log")), &problems)
		if problems.Errors() > 0 {
			if len(sent.Pieces) > 0 {
				t.Fatal(problems.Sorted())
			}
			return // nothing is filled in
		}
		for _, agreed := range []bool{false, true} {
			kept := sent.CSV(agreed)
			if !agreed && strings.Contains(string(kept), "secret") {
				t.Fatalf("the sender's words are kept:\n%s", kept)
			}
			again := read.ReadHome("household-1.csv", kept, &problems)
			if problems.Len() > 0 {
				t.Fatalf("%v\n%s", problems.Sorted(), kept)
			}
			if !again.SameAs(sent.Pieces) || !slices.Equal(asides(again.Pieces), asides(sent.Pieces)) {
				t.Fatalf("reads back otherwise:\n%s", kept)
			}
			if agreed && (string(again.CSV(true)) != string(kept) || remarks(again.Pieces) != remarks(sent.Pieces)) {
				t.Fatalf("does not stay as it is:\n%s", kept)
			}
		}
	})
}

// asides say of every piece which of its readings are set aside.
func asides(pieces []Piece) []string {
	var all []string
	for _, p := range pieces {
		for name, r := range p.Readings {
			if r.SetAside != "" {
				all = append(all, p.Sample+" "+name)
			}
		}
		all = append(all, p.Sample)
	}
	slices.Sort(all)
	return all
}

func remarks(pieces []Piece) string {
	var all []string
	for _, p := range pieces {
		all = append(all, p.Note)
	}
	return strings.Join(all, "\n")
}

// TestSameReadings: the same log, however its pieces are numbered and whatever is set
// aside, and others.
func TestSameReadings(t *testing.T) {
	read, _ := repeated(t, nil)
	of := func(log string) HomeLog {
		var problems problem.List
		h := read.ReadHome("log.csv", []byte(log), &problems)
		if problems.Errors() > 0 {
			t.Fatal(problems.Sorted())
		}
		return h
	}
	log := of("sample,piece,side 1,done\nshort,1,70,yes\nlong,1,80,no\nlong,2,,\n")
	for _, tt := range []struct {
		name, log string
		want      bool
	}{
		{"the same", "sample,piece,side 1,done\nshort,1,70,yes\nlong,1,80,no\n", true},
		{"in another order, written otherwise", "sample;piece;done;side 1;set aside\nlong;x;no;1:20;\nshort;3;Y;70,0;torn\n", true},
		{"another reading", "sample,piece,side 1,done\nshort,1,70,yes\nlong,1,81,no\n", false},
		{"of the other sample", "sample,piece,side 1,done\nlong,1,70,yes\nshort,1,80,no\n", false},
		{"a piece more", "sample,piece,side 1,done\nshort,1,70,yes\nlong,1,80,no\nlong,2,80,no\n", false},
		{"in another batch", "sample,batch,piece,side 1,done\nshort,2,1,70,yes\nlong,1,1,80,no\n", false},
	} {
		if got := log.SameAs(of(tt.log).Pieces); got != tt.want {
			t.Errorf("%s: %t", tt.name, got)
		}
	}
	if got := log.LacksColumns(); !slices.Equal(got, []string{"side 2", "surface", "width", "soft"}) {
		t.Errorf("without a column: %q", got)
	}
}

// FuzzHome reads any bytes as a log that a viewer sent: no panic, every problem in the
// file, and what is kept of it is read again without one.
func FuzzHome(f *testing.F) {
	for _, log := range notes(f, PiecesFile) {
		f.Add(log)
	}
	f.Add([]byte(homeRows))
	f.Add([]byte("sample;piece;side 1;soft;set aside\nshort;'=1;1:10,5;2,5;\"width: x;soft:y\"\n"))
	read, _ := repeated(f, nil)
	f.Fuzz(func(t *testing.T, log []byte) {
		if len(log) > 20_000 {
			return
		}
		var problems problem.List
		sent := read.ReadHome("log.csv", log, &problems)
		for _, p := range problems.Sorted() {
			if p.Pos.File != "log.csv" || p.What == "" || p.Code == "" {
				t.Fatalf("%#v", p)
			}
		}
		if problems.Errors() > 0 {
			return
		}
		for _, agreed := range []bool{false, true} {
			var none problem.List
			kept := sent.CSV(agreed)
			if again := read.ReadHome("log.csv", kept, &none); none.Errors() > 0 || !again.SameAs(sent.Pieces) {
				t.Fatalf("%v\n%q\n%q", none.Sorted(), log, kept)
			}
		}
	})
}

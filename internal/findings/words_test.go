package findings

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"sidebatch.example/sidebatch/internal/testkit"
)

// wordCases is a trial for every branch of the sentences.
func wordCases() []struct {
	name string
	bench
} {
	side := "batches: side by side"
	three := func(x, y [3][]string) string {
		log := numberHead
		for i, batch := range []string{"1", "2", "3"} {
			log += rows("b."+batch, x[i]...) + rows("a."+batch, y[i]...)
		}
		return log
	}
	shorter := [3][]string{{"60", "61", "62"}, {"65", "66", "67"}, {"58", "59", "57"}}
	longer := [3][]string{{"70", "71", "72"}, {"75", "76", "77"}, {"68", "69", "67"}}
	times := "side: {kind: time, primary: true}"
	grid := func(x, y []string) string { return "sample,batch,piece,side\n" + rows("b", x...) + rows("a", y...) }
	scores := "chew: {kind: score, of: tasting, primary: true}"
	chewed := func(x, y string) string {
		return strings.Replace(tasted("b a", strings.Fields(x), strings.Fields(y)), "taste", "chew", 1)
	}
	return []struct {
		name string
		bench
	}{
		{"a difference of shares", bench{measures: done, pieces: shareHead + passed("b", 6, 6) + passed("a", 1, 6)}},
		{"a leaning of shares", bench{measures: done, pieces: shareHead + passed("b", 6, 6) + passed("a", 3, 7)}},
		{"no difference of shares", bench{measures: done, pieces: shareHead + passed("b", 4, 6) + passed("a", 3, 6)}},
		{"no difference, few pieces", bench{measures: done, pieces: shareHead + passed("b", 3, 3) + passed("a", 0, 3)}},
		{"no difference, hardly any reach", bench{measures: done, pieces: shareHead + passed("b", 2, 4) + passed("a", 1, 4)}},
		{"the same share", bench{measures: done, pieces: shareHead + passed("b", 3, 6) + passed("a", 3, 6)}},
		{"all passed", bench{measures: done, pieces: shareHead + passed("b", 6, 6) + passed("a", 6, 6)}},
		{"a sure difference", bench{measures: done, pieces: shareHead + passed("b", 12, 12) + passed("a", 0, 12)}},
		{"a difference of times", bench{measures: times, pieces: grid([]string{"1:10", "1:12", "1:08", "1:11"}, []string{"50", "52", "49", "51"})}},
		{"a leaning of times", bench{measures: times, pieces: grid([]string{"40", "41", "44", "46"}, []string{"39", "41", "37", "38"})}},
		{"no difference of times", bench{measures: times, pieces: grid([]string{"40", "50", "45"}, []string{"44", "46", "41"})}},
		{"a difference too small to name", bench{measures: times, pieces: grid([]string{"40", "50", "45"}, []string{"40", "50", "45"})}},
		{"within one batch", bench{samples: "a: {name: Lid on, control: true}\nb: {name: Lid off, taken from: a, change: {lid: \"off\"}}",
			measures: done, pieces: shareHead + passed("b", 6, 6) + passed("a", 1, 6)}},
		{"exploratory", bench{measures: "done: {kind: pass or fail}", pieces: shareHead + passed("b", 6, 6) + passed("a", 1, 6)}},
		{"confounded", bench{samples: "a: {control: true}\nb: {name: Both, change: {boil: 18 min, lid: \"off\"}, omit: [salt]}",
			measures: done, pieces: shareHead + passed("b", 6, 6) + passed("a", 1, 6)}},
		{"nothing differs by plan", bench{samples: "a: {control: true}\nb: {name: Again}",
			measures: done, pieces: shareHead + passed("b", 6, 6) + passed("a", 1, 6)}},
		{"three pairs, all one way", bench{measures: size, more: side, pieces: three(longer, shorter)}},
		{"three pairs, not all one way", bench{measures: size, more: side, pieces: three([3][]string{longer[0], shorter[1], longer[2]}, [3][]string{shorter[0], longer[1], shorter[2]})}},
		{"three batches on their own", bench{measures: size, pieces: three(longer, shorter)}},
		{"eight pairs", bench{measures: done, more: side, pieces: shareHead + eightPairs()}},
		{"eight pairs, none", bench{measures: done, more: side, pieces: shareHead + eightMixedPairs()}},
		{"tasters agree", bench{measures: scores, tasting: chewed("5 6 7 5 6 7 6 5", "3 4 4 2 3 4 4 3")}},
		{"tasters lean", bench{measures: scores, tasting: chewed("4 5 5 6 3 6 5", "6 7 5 8 6 7 4")}},
		{"tasters see none", bench{measures: scores, tasting: chewed("5 6 7 5 6 4 5 5", "6 5 8 3 6 5 3 6")}},
		{"tasters part evenly", bench{measures: scores, tasting: chewed("5 6 7 5", "6 5 6 6")}},
		{"tasters all alike", bench{measures: scores, tasting: chewed("5 6 7", "5 6 7")}},
		{"tasters rank", bench{measures: "best: {kind: rank, primary: true}", tasting: strings.Replace(
			tasted("b a", strings.Fields("1 1 1 1 1 2 1 1"), strings.Fields("2 2 2 2 2 1 2 2")), "taste", "best", 1)}},
		{"tasters say yes", bench{measures: "taste: {kind: yes or no, of: tasting, primary: true}",
			tasting: tasted("b a", strings.Fields("yes yes yes no yes"), strings.Fields("no no yes no yes"))}},
		{"never read", bench{measures: "done: {kind: yes or no}\nwidth: {kind: length, primary: true}", pieces: "sample,batch,piece,done\n" + passed("b", 1, 2) + passed("a", 1, 2)}},
		{"not read for one", bench{measures: done, pieces: shareHead + passed("b", 1, 2) + rows("a", "", "")}},
		{"all set aside", bench{measures: done, pieces: "sample,batch,piece,done,set aside\n" + rows("b", "pass,", "pass,", "pass,", "pass,", "pass,", "pass,") +
			rows("a", "fail,torn", "fail,torn", "fail,torn", "fail,torn", "fail,torn")}},
		{"read once", bench{measures: done, pieces: shareHead + passed("b", 1, 1) + passed("a", 3, 6)}},
		{"no taster of both", bench{measures: scores, tasting: "assessor,sample,chew\nt1,b,5\nt2,a,4\n"}},
		{"one taster", bench{measures: scores, tasting: "assessor,sample,chew\nt1,b,5\nt1,a,4\n"}},
		{"all alike", bench{measures: times, pieces: grid([]string{"40", "40"}, []string{"40", "40", "40"})}},
		{"set aside changes the answer", bench{measures: done, pieces: "sample,batch,piece,done,set aside\n" +
			rows("b", "pass,", "pass,", "pass,", "pass,", "pass,", "fail,torn", "fail,torn", "fail,torn") +
			rows("a", "fail,", "fail,", "fail,", "fail,", "fail,")}},
		{"set aside makes the answer", bench{measures: done, pieces: "sample,batch,piece,done,set aside\n" +
			rows("b", "pass,", "pass,", "pass,", "pass,", "pass,", "fail,torn", "fail,torn", "fail,torn") +
			rows("a", "fail,", "fail,", "fail,", "fail,", "fail,", "pass,torn", "pass,torn")}},
		{"two pairs compared, a difference", bench{samples: threeSamples, measures: done,
			pieces: shareHead + passed("a", 1, 6) + passed("b", 6, 6) + passed("c", 5, 6)}},
		{"two pairs compared, a leaning", bench{samples: threeSamples, measures: done,
			pieces: shareHead + passed("a", 1, 5) + passed("b", 5, 5) + passed("c", 4, 5)}},
		{"many pieces needed", bench{measures: times, pieces: grid([]string{"40", "50", "45", "41"}, []string{"40", "50", "45", "42"})}},
		{"many pairs needed", bench{measures: size, more: side, pieces: numberHead +
			inPairs([]string{"40", "60", "40", "60", "40", "61"}, []string{"60", "40", "60", "40", "60", "40"})}},
		{"drawn at random, a sure difference", bench{measures: size, pieces: numberHead + rows("b", drawn(40, 3)...) + rows("a", drawn(40, 0)...)}},
		{"drawn at random", bench{measures: size, pieces: numberHead + rows("b", drawn(40, 1)...) + rows("a", drawn(40, 0)...)}},
	}
}

// eightPairs are eight sessions in each of which more of b passed.
func eightPairs() string {
	log := ""
	for _, batch := range []string{"1", "2", "3", "4", "5", "6", "7", "8"} {
		log += passed("b."+batch, 3, 3) + passed("a."+batch, 1, 3)
	}
	return log
}

func eightMixedPairs() string {
	log := ""
	for i, batch := range []string{"1", "2", "3", "4", "5", "6", "7", "8"} {
		log += passed("b."+batch, 1+i%3, 3) + passed("a."+batch, 1+(i+1)%2, 3)
	}
	return log
}

// drawn are readings with so many digits that their arrangements cannot all be counted.
func drawn(n, shift int) []string {
	readings := make([]string, n)
	for i := range readings {
		readings[i] = decimal(float64(100+shift)+float64((i*7919+shift*104729)%99991)/9999.1, 4)
	}
	return readings
}

// TestWords holds the sentences of all branches against one file that can be read
// from top to bottom.
func TestWords(t *testing.T) {
	var out strings.Builder
	for _, c := range wordCases() {
		f := c.of(t)
		e := f.first()
		for _, other := range f.Contrasts[0].Measures {
			if other.Primary {
				e = other
			}
		}
		out.WriteString("# " + c.name + " (" + string(e.Kind) + ")\n" + e.Words + "\n\n")
	}
	out.WriteString(panelSentences(t) + verdictSentences(t) + repeatSentences(t) + "\n" + tableWords(t))
	testkit.Golden(t, "testdata/words.txt", []byte(out.String()))
	usedPhrases(t, out.String())
}

// usedPhrases fails for a phrase that no sentence of the file shows, and for a blank
// that nobody filled in.
func usedPhrases(t *testing.T, text string) {
	t.Helper()
	if strings.ContainsAny(text, "{}") || strings.Contains(text, "%!") {
		t.Error("a blank was not filled in")
	}
	for _, never := range []string{"0 of 100 repeats", "0 of 1,000", "proves", "no effect", "significant difference"} {
		if strings.Contains(text, " "+never) {
			t.Errorf("the sentences say %q", never)
		}
	}
	blank := regexp.MustCompile(`\{[^}]*\}`)
	var names []string
	all := spoken(nil).All()
	for name := range all {
		if name == "about words" {
			continue // is looked for and never said
		}
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		pattern := ""
		for _, fixed := range blank.Split(all[name], -1) {
			pattern += regexp.QuoteMeta(fixed) + "[^\n]*?"
		}
		if !regexp.MustCompile(pattern).MatchString(text) {
			t.Errorf("no sentence shows the phrase %q", name)
		}
	}
}

// repeatSentences shows what is said of households that repeated a trial.
func repeatSentences(t *testing.T) string {
	share := func(b, a int) string { return shareHead + passed("b", b, 6) + passed("a", a, 6) }
	number := func(b, a string) string {
		return numberHead + rows("b", strings.Fields(b)...) + rows("a", strings.Fields(a)...)
	}
	thick := done + "\nthick: {kind: number, not controlled: true}"
	// Six pieces that are about as thick as thickB says, beside six of about 5.
	thickened := func(b, a, thickB int) string {
		with := func(sample string, passes, thick int) string {
			readings := make([]string, 6)
			for i := range readings {
				readings[i] = fmt.Sprintf("fail,%d.%d", thick, i)
				if i < passes {
					readings[i] = fmt.Sprintf("pass,%d.%d", thick, i)
				}
			}
			return rows(sample, readings...)
		}
		return "sample,batch,piece,done,thick\n" + with("b", b, thickB) + with("a", a, 5)
	}
	cases := []struct {
		name string
		bench
	}{
		{"one household, the same way", bench{measures: done, pieces: share(6, 1), homes: []string{share(5, 2)}}},
		{"three households, the same way", bench{measures: done, pieces: share(6, 1), homes: []string{share(5, 2), share(6, 3), share(4, 3)}}},
		{"most the same way, one level", bench{measures: done, pieces: share(6, 1), homes: []string{share(5, 2), share(3, 3), share(6, 2)}}},
		{"one household, the other way", bench{measures: done, pieces: share(6, 1), homes: []string{share(2, 3)}}},
		{"no household the same way, and they disagree", bench{measures: done, pieces: share(6, 0), homes: []string{share(0, 6), share(0, 6)}}},
		{"the kitchen points no way", bench{measures: done, pieces: share(3, 3), homes: []string{share(5, 2), share(2, 3), share(4, 4)}}},
		{"everything alike", bench{measures: done, pieces: share(6, 6), homes: []string{share(6, 6), share(6, 6)}}},
		{"the kitchen compared nothing", bench{measures: done, pieces: shareHead + passed("b", 1, 1) + passed("a", 1, 6), homes: []string{share(5, 2)}}},
		{"a household differs in more", bench{measures: thick, pieces: thickened(6, 1, 5),
			homes: []string{thickened(5, 2, 5), thickened(5, 2, 9), thickened(6, 2, 9)}}},
		{"another household differs in more", bench{measures: thick, pieces: thickened(6, 1, 5), homes: []string{thickened(5, 2, 5), thickened(5, 2, 9)}}},
		{"the kitchen differs in more", bench{measures: thick, pieces: thickened(6, 1, 9), homes: []string{thickened(5, 2, 5), thickened(6, 2, 5)}}},
		{"numbers", bench{measures: size, pieces: number("40 42 41 43", "30 33 31 32"), homes: []string{number("39 41 43", "33 31 30"), number("44 40 41", "32 35 30")}}},
		{"numbers far apart", bench{measures: size, pieces: number("40 42 41 43", "30 33 31 32"), homes: []string{number("39 41 43", "38 39 40"), number("64 60 61", "32 35 30")}}},
		{"numbers, drawn at random", bench{measures: size, pieces: numberHead + rows("b", drawn(40, 1)...) + rows("a", drawn(40, 0)...),
			homes: []string{numberHead + rows("b", drawn(30, 1)...) + rows("a", drawn(30, 0)...)}}},
		{"numbers without scatter", bench{measures: size, pieces: number("40 42 41 43", "30 33 31 32"), homes: []string{number("40 40 40", "31 31 31")}}},
		{"numbers of another precision", bench{measures: size, pieces: number("40 60 20 80", "30 10 70 5"), homes: []string{number("40.000001 40.000002", "30.000001 30.000002")}}},
		{"loose batches", bench{measures: done, pieces: share(6, 1), homes: []string{
			shareHead + passed("b.1", 3, 3) + passed("b.2", 2, 3) + passed("a.1", 1, 3) + passed("a.2", 1, 3)}}},
	}
	out := ""
	for _, c := range cases {
		out += "# repeated at home: " + c.name + "\n"
		for _, x := range c.of(t).Repeats {
			out += x.Words + "\n"
		}
		out += "\n"
	}
	return out
}

func panelSentences(t *testing.T) string {
	cases := []struct {
		name, measure string
		data          string
	}{
		{"a panel that differs (friedman_panel_6x3)", "taste: {kind: rank, primary: true}", "1 2 3; 2 1 3; 1 3 2; 1 2 3; 2 1 3; 1 2 3"},
		{"a panel that leans", taste, "1 2 3; 1 3 2; 1 2 3; 1 3 2"},
		{"a panel that sees none", taste, "1 2 3; 2 3 1; 3 1 2"},
		{"a panel that ties", "taste: {kind: number, of: tasting}", "5 5 5; 4 4 4"},
		{"a panel of one", taste, "1 2 3"},
	}
	out := ""
	for _, c := range cases {
		p := panelOf(t, c.measure, strings.Split(c.data, "; "))
		out += "# " + c.name + " (" + string(p.Kind) + ")\n" + p.Words + "\n\n"
	}
	lacking := bench{samples: threeSamples, measures: taste, tasting: tasted("a b c",
		strings.Fields("1 1 1 1 2"), strings.Fields("2 2 2 2 1"), []string{"3", "3", "3", "", ""})}
	out += "# two left out\n" + lacking.of(t).Panels[0].Words + "\n\n"
	lacking.tasting = tasted("a b c", strings.Fields("1 1 1 1"), strings.Fields("2 2 2 2"), []string{"3", "3", "3", ""})
	out += "# one left out\n" + lacking.of(t).Panels[0].Words + "\n\n"
	for _, d := range discriminationCases() {
		found := d.of(t).Discriminations[0]
		out += "# " + d.name + " (" + string(found.Kind) + ")\n" + found.Words + "\n\n"
	}
	return out
}

// tableWords shows what tables show of some of the cases.
func tableWords(t *testing.T) string {
	out := "# in tables\n"
	for _, c := range wordCases() {
		e := c.of(t).first()
		for _, o := range []*Outcome{&e.Outcome, e.PutBack, e.Pieces, e.Also} {
			if o != nil && o.HasP {
				s := e.Show(o)
				out += strings.Join([]string{c.name, s.Difference, s.Interval, s.P, s.PAdjusted, s.Test, s.Unit}, " | ") + "\n"
			}
		}
	}
	for _, test := range []Test{BinomialTest, FriedmanTest, CochranTest} {
		out += spoken(nil).Say("test "+string(test)) + "\n"
	}
	return out + spoken(nil).Say("unit set") + "\n"
}

package findings

import (
	"strings"
	"testing"
)

// TestUnits: what counts as one, by design of the trial; pieces of one batch are never
// taken for evidence about the recipe where there are batches to count.
func TestUnits(t *testing.T) {
	side := "batches: side by side"
	within := "a: {control: true}\nb: {taken from: a, change: {lid: \"off\"}}"
	two := func(sample string) string { return passed(sample+".1", 2, 3) + passed(sample+".2", 3, 3) }
	tests := []struct {
		name        string
		in          bench
		unit        Unit
		test        Test
		n, against  int
		paired      bool
		pieces      Test // "" for none beside it
		hasP        bool
		why         Reason
		least       float64 // smallest p
		hasInterval bool
	}{
		{"one batch each", bench{measures: done, pieces: shareHead + passed("b", 2, 3) + passed("a", 1, 3)},
			OfPiece, FisherTest, 3, 3, false, "", true, "", 0.1, true},
		{"two and two", bench{measures: done, pieces: shareHead + two("b") + two("a")},
			OfBatch, BatchTest, 2, 2, false, FisherTest, true, "", 1. / 3, true},
		{"two and one", bench{measures: done, pieces: shareHead + two("b") + passed("a", 1, 3)},
			OfPiece, FisherTest, 6, 3, false, "", true, "", 1. / 84, true},
		{"side by side", bench{measures: done, more: side, pieces: shareHead + two("b") + passed("a.1", 1, 3) + passed("a.2", 0, 3)},
			OfBatch, BatchPairTest, 2, 2, true, StratifiedTest, true, "", 0.5, true},
		{"side by side, one evening missed", bench{measures: done, more: side, pieces: shareHead + two("b") + two("a") + passed("a.3", 3, 3)},
			OfBatch, BatchPairTest, 2, 2, true, StratifiedTest, false, Alike, 0.5, false},
		{"side by side, one evening in common", bench{measures: done, more: side, pieces: shareHead + two("b") + passed("a.2", 1, 3) + passed("a.3", 1, 3)},
			OfPiece, FisherTest, 3, 3, false, "", true, "", 0.1, true},
		{"side by side, none in common", bench{measures: done, more: side, pieces: shareHead + two("b") + passed("a.3", 1, 3) + passed("a.4", 1, 3)},
			OfBatch, BatchTest, 2, 2, false, FisherTest, true, "", 1. / 3, true},
		{"within one dough", bench{samples: within, measures: done, pieces: shareHead + passed("b", 2, 3) + passed("a", 1, 3)},
			OfPiece, FisherTest, 3, 3, false, "", true, "", 0.1, true},
		{"within two doughs", bench{samples: within, measures: done, pieces: shareHead + two("b") + passed("a.1", 1, 3) + passed("a.2", 0, 3)},
			OfBatch, BatchPairTest, 2, 2, true, StratifiedTest, true, "", 0.5, true},
		{"numbers of one batch", bench{measures: size, pieces: numberHead + rows("b", "1", "2", "3") + rows("a", "4", "5")},
			OfPiece, PermutationTest, 3, 2, false, "", true, "", 0.1, true},
		{"numbers side by side", bench{measures: size, more: side, pieces: numberHead + rows("b.1", "1", "2") + rows("b.2", "3") + rows("a.1", "4") + rows("a.2", "5", "7")},
			OfBatch, BatchPairTest, 2, 2, true, BlockedTest, true, "", 0.5, true},
		{"tasters", bench{measures: taste, tasting: tasted("b a", strings.Fields("1 2 3"), strings.Fields("2 4 3"))},
			OfAssessor, SignedRankTest, 3, 3, true, "", true, "", 0.25, false},
		{"scores of pieces are numbers", bench{measures: "done: {kind: score, primary: true}", pieces: shareHead + rows("b", "1", "2") + rows("a", "4", "5")},
			OfPiece, PermutationTest, 2, 2, false, "", true, "", 1. / 3, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			e := tt.in.of(t).first()
			if e.Unit != tt.unit || e.Test != tt.test || e.Of.Units != tt.n || e.Against.Units != tt.against || e.Paired != tt.paired {
				t.Errorf("%s of %d against %d %ss, paired %v", e.Test, e.Of.Units, e.Against.Units, e.Unit, e.Paired)
			}
			var beside Test
			if e.Pieces != nil {
				beside = e.Pieces.Test
			}
			if beside != tt.pieces || e.HasP != tt.hasP || e.Why != tt.why || e.HasInterval != tt.hasInterval {
				t.Errorf("beside it %q, p %v, interval %v, %s", beside, e.HasP, e.HasInterval, e.Why)
			}
			if d := e.SmallestP - tt.least; d*d > 1e-20 {
				t.Errorf("the smallest p is %v, want %v", e.SmallestP, tt.least)
			}
		})
	}
}

// TestBatchMeans: pieces are averaged within a batch and the batches compared, however
// many pieces each has. By hand: batch means 2 and 6 against 1 and 2, differences 1
// and 4; shares 2/3 and 1/2 against 0 and 1/2, differences 2/3 and 0.
func TestBatchMeans(t *testing.T) {
	side := "batches: side by side"
	e := bench{measures: size, more: side, pieces: numberHead + rows("b.1", "1", "2", "3") + rows("b.2", "6") +
		rows("a.1", "1") + rows("a.2", "1", "3")}.of(t).first()
	if e.Difference != 2.5 || e.Of.Mean != 4 || e.Against.Mean != 1.5 || e.Of.Readings != 4 || e.P != 0.5 {
		t.Errorf("%+v", e.Outcome)
	}
	s := bench{measures: done, more: side, pieces: shareHead + passed("b.1", 2, 3) + passed("b.2", 1, 2) +
		passed("a.1", 0, 4) + passed("a.2", 1, 2)}.of(t).first()
	if d := s.Difference - 1./3; d*d > 1e-24 || s.Of.Passes != 3 || s.Interval.High != 1 || s.Interval.Low != -1 {
		t.Errorf("%+v", s.Outcome)
	}
}

// TestTies: a difference of thirds and of converted degrees is compared exactly. In
// each list all six ways to deal the readings, or all four sign patterns, are as far
// apart as the one seen, or as many as counted by hand.
func TestTies(t *testing.T) {
	side := "batches: side by side"
	// Batch means 1/3 and 2/3 above, 2/3 and 1/3 below: differences −1/3 and 1/3, mean 0.
	e := bench{measures: size, more: side, pieces: numberHead + rows("b.1", "0", "0", "1") + rows("b.2", "0", "1", "1") +
		rows("a.1", "0", "1", "1") + rows("a.2", "0", "0", "1")}.of(t).first()
	if e.P != 1 || e.Difference != 0 {
		t.Errorf("thirds: p %v, difference %v", e.P, e.Difference)
	}
	// 151 and 153 °F against 150 and 154: equal sums, so every way is at least as far.
	f := bench{measures: "heat: {kind: temperature, in: °F, primary: true}", pieces: "sample,batch,piece,heat\n" +
		rows("b", "151", "153") + rows("a", "150", "154")}.of(t).first()
	if f.P != 1 {
		t.Errorf("degrees: p %v", f.P)
	}
	// One of 160, 161 against 162, 163: 2 of 6.
	g := bench{measures: "heat: {kind: temperature, in: °F, primary: true}", pieces: "sample,batch,piece,heat\n" +
		rows("b", "160", "161") + rows("a", "162", "163")}.of(t).first()
	if d := g.P - 1./3; d*d > 1e-24 || g.Difference > -1.11 || g.Difference < -1.112 {
		t.Errorf("degrees: p %v, difference %v °C", g.P, g.Difference)
	}
}

// TestFamily: Holm over the single-factor contrasts of a measure. c differs from a in
// two things: it keeps its own p and costs the others nothing. The two p are Fisher's
// of 6/6 against 1/6 and of 5/6 against 6/6 (two_proportions.csv: fisher_6_6_v_1_6 is
// 0.01515; the other is 1 by counting).
func TestFamily(t *testing.T) {
	f := bench{samples: threeSamples, measures: done,
		pieces: shareHead + passed("a", 1, 6) + passed("b", 6, 6) + passed("c", 5, 6)}.of(t)
	tests := []struct {
		pair        string
		p, adjusted float64
		family      int
		confounded  bool
		kind        Kind
	}{
		{"b a", 1. / 66, 2. / 66, 2, false, Differs},
		{"c a", 0.08008658008658, 0.08008658008658, 0, true, Leans},
		{"c b", 1, 1, 2, false, NoneSeen},
	}
	for i, tt := range tests {
		c := f.Contrasts[i]
		e := c.Measures[0]
		if c.Of.Key+" "+c.Against.Key != tt.pair || e.Family != tt.family || e.Confounded != tt.confounded || e.Kind != tt.kind {
			t.Errorf("%s %s: family %d, confounded %v, %s", c.Of.Key, c.Against.Key, e.Family, e.Confounded, e.Kind)
		}
		if d, a := e.P-tt.p, e.PAdjusted-tt.adjusted; d*d > 1e-20 || a*a > 1e-20 {
			t.Errorf("%s: p %v, adjusted %v", tt.pair, e.P, e.PAdjusted)
		}
		if tt.confounded && strings.Contains(e.Words, "so these batches differ") {
			t.Errorf("a confounded contrast carries a claim: %s", e.Words)
		}
	}
	if e := f.Contrasts[0].Measures[0]; !e.Primary || e.Exploratory {
		t.Error("the primary measure is called exploratory")
	}
}

// TestOwnMeasure: a measure that nobody controlled and that turned out different makes
// the other findings confounded, not its own.
func TestOwnMeasure(t *testing.T) {
	f := bench{measures: done + "\nwidth: {kind: length, not controlled: true}", pieces: "sample,batch,piece,done,width\n" +
		rows("b", "pass,60", "pass,61", "pass,59", "pass,60") + rows("a", "fail,50", "fail,51", "fail,49", "fail,50")}.of(t)
	own, other := f.Contrasts[0].Measures[1], f.Contrasts[0].Measures[0]
	if own.Confounded || own.Family != 1 || own.Kind != Differs {
		t.Errorf("width: %v", own.Factors)
	}
	if !other.Confounded || other.Family != 0 || strings.Join(other.Factors, ", ") != "boil, width" {
		t.Errorf("done: %v", other.Factors)
	}
}

// TestPutBack: every finding is computed again with what was set aside, and says when
// the answer is then another one.
func TestPutBack(t *testing.T) {
	head := "sample,batch,piece,done,set aside\n"
	tests := []struct {
		name           string
		rows           string
		kind, back     Kind
		changes, again bool
	}{
		{"none set aside", rows("b", "pass,", "pass,", "pass,") + rows("a", "fail,", "fail,", "pass,"), NoneSeen, "", false, false},
		{"the same answer", rows("b", "pass,", "pass,", "pass,", "pass,", "pass,", "pass,torn") + rows("a", "fail,", "fail,", "fail,", "fail,", "fail,"),
			Differs, Differs, false, true},
		{"another answer", rows("b", "pass,", "pass,", "pass,", "pass,", "pass,", "fail,torn", "fail,torn", "fail,torn") + rows("a", "fail,", "fail,", "fail,", "fail,", "fail,"),
			Differs, Leans, true, true},
		{"nothing without them", rows("b", "pass,torn", "pass,torn", "pass,torn", "pass,torn") + rows("a", "fail,", "fail,", "fail,", "fail,"),
			Nothing, Differs, true, true},
	}
	for _, tt := range tests {
		e := bench{measures: done, pieces: head + tt.rows}.of(t).first()
		if e.Kind != tt.kind || e.Changes != tt.changes || (e.PutBack != nil) != tt.again || tt.again && e.PutBack.Kind != tt.back {
			t.Errorf("%s: %s, changes %v, put back %+v", tt.name, e.Kind, e.Changes, e.PutBack)
		}
		if strings.Contains(e.Words, "put back") != tt.changes {
			t.Errorf("%s: %s", tt.name, e.Words)
		}
	}
}

// TestPutBackFamily: with a reading put back, Holm is done again over the family. By
// counting, 5/5 against 0/5 has 2 of 252, and with the sixth pass put back 6/6 against
// 0/5 has 1 of 462; 1/5 against 5/5 has 12 of 252 (two_proportions.csv:
// fisher_5_5_v_1_5), and against 6/6 it has 5 of 330.
func TestPutBackFamily(t *testing.T) {
	f := bench{samples: threeSamples, measures: done, pieces: "sample,batch,piece,done,set aside\n" +
		rows("a", "fail,", "fail,", "fail,", "fail,", "fail,") +
		rows("b", "pass,", "pass,", "pass,", "pass,", "pass,", "pass,torn") +
		rows("c", "fail,", "fail,", "fail,", "fail,", "pass,")}.of(t)
	first, last := f.Contrasts[0].Measures[0], f.Contrasts[2].Measures[0]
	for _, c := range []struct{ got, want float64 }{
		{first.PAdjusted, 2 * 2. / 252}, {last.PAdjusted, 12. / 252},
		{first.PutBack.PAdjusted, 2 * 1. / 462}, {last.PutBack.PAdjusted, 5. / 330},
	} {
		if d := c.got - c.want; d*d > 1e-20 {
			t.Errorf("adjusted %v, want %v", c.got, c.want)
		}
	}
}

// TestScoresOfDegrees: what tasters said in °F comes out in °C. Six differences of 1 to
// 6 °F: the middle of their pair means is 3.5, and the interval of six runs from the
// least to the largest (Hollander & Wolfe 1973, ch. 3; table A.4 from memory).
func TestScoresOfDegrees(t *testing.T) {
	e := bench{measures: "taste: {kind: temperature, in: °F, of: tasting, primary: true}", tasting: tasted("b a",
		strings.Fields("151 152 153 154 155 156"), strings.Fields("150 150 150 150 150 150"))}.of(t).first()
	for _, c := range []struct{ got, want float64 }{
		{e.Difference, 3.5 * 5 / 9}, {e.Interval.Low, 5. / 9}, {e.Interval.High, 30. / 9}, {e.P, 2. / 64},
	} {
		if d := c.got - c.want; d*d > 1e-18 {
			t.Errorf("%v, want %v", c.got, c.want)
		}
	}
}

// TestSharesOutOfReach: where batches scatter so much that only a difference of more
// than all would show, none could have been shown.
func TestSharesOutOfReach(t *testing.T) {
	log := shareHead
	for i, batch := range strings.Fields("1 2 3 4 5 6") {
		log += passed("b."+batch, i%2, 1) + passed("a."+batch, (i+1)%2, 1)
	}
	e := bench{measures: done, more: "batches: side by side", pieces: log}.of(t).first()
	if e.Detectable == nil || !e.Detectable.Never {
		t.Errorf("%+v", e.Detectable)
	}
}

// TestNothing: inputs that break naive code give a sentence and no number.
func TestNothing(t *testing.T) {
	scores := "chew: {kind: score, of: tasting, primary: true}"
	tests := []struct {
		name string
		in   bench
		why  Reason
		kind Kind
	}{
		{"no log", bench{measures: done}, NotRead, Nothing},
		{"no row for one sample", bench{measures: done, pieces: shareHead + passed("b", 2, 3)}, NotRead, Nothing},
		{"no column", bench{measures: size + "\nother: {kind: number}", pieces: "sample,batch,piece,other\n" + rows("b", "1", "2") + rows("a", "2", "3")}, NotRead, Nothing},
		{"empty cells", bench{measures: size, pieces: numberHead + rows("b", "", "") + rows("a", "2", "3")}, NotRead, Nothing},
		{"all set aside", bench{measures: size, pieces: "sample,batch,piece,size,set aside\n" + rows("b", "1,x", "2,x") + rows("a", "2,", "3,")}, AllSetAside, Nothing},
		{"one piece", bench{measures: size, pieces: numberHead + rows("b", "1") + rows("a", "2", "3")}, OneReading, Nothing},
		{"one piece each", bench{measures: done, pieces: shareHead + passed("b", 1, 1) + passed("a", 0, 1)}, OneReading, Nothing},
		{"all alike", bench{measures: size, pieces: numberHead + rows("b", "4", "4") + rows("a", "4", "4", "4")}, Alike, NoneSeen},
		{"all alike, side by side", bench{measures: size, more: "batches: side by side", pieces: numberHead + rows("b.1", "4") + rows("b.2", "5") + rows("a.1", "4") + rows("a.2", "5")}, Alike, NoneSeen},
		{"all alike, batches", bench{measures: size, pieces: numberHead + rows("b.1", "4") + rows("b.2", "4") + rows("a.1", "4") + rows("a.2", "4")}, Alike, NoneSeen},
		{"one taster", bench{measures: scores, tasting: "assessor,sample,chew\nt1,b,5\nt1,a,4\n"}, OnePair, Nothing},
		{"tasters of different samples", bench{measures: scores, tasting: "assessor,sample,chew\nt1,b,5\nt2,a,4\n"}, NoPair, Nothing},
		{"nobody tasted", bench{measures: scores}, NotRead, Nothing},
		{"tasters tie everything", bench{measures: scores, tasting: "assessor,sample,chew\nt1,b,5\nt1,a,5\nt2,b,3\nt2,a,3\n"}, Alike, NoneSeen},
		{"ranks tie", bench{measures: "chew: {kind: rank, primary: true}", tasting: "assessor,sample,chew\nt1,b,1\nt1,a,1\nt2,b,1\nt2,a,1\n"}, Alike, NoneSeen},
	}
	for _, tt := range tests {
		e := tt.in.of(t).first()
		if e.Kind != tt.kind || e.Why != tt.why || e.HasP || e.HasInterval || e.HasDifference != (tt.why == Alike) || e.Difference != 0 {
			t.Errorf("%s: %+v", tt.name, e.Outcome)
		}
		if e.Words == "" || strings.Contains(e.Words, "NaN") || e.Detectable != nil && e.Detectable.Difference != 0 || e.Needed != nil {
			t.Errorf("%s: %q, detectable %+v", tt.name, e.Words, e.Detectable)
		}
	}
}

// TestRegular: one sample that does not vary, and samples far apart, still have all
// their numbers.
func TestRegular(t *testing.T) {
	e := bench{measures: size, pieces: numberHead + rows("b", "5", "5", "5") + rows("a", "3", "4", "3.5")}.of(t).first()
	if !e.HasP || !e.HasInterval || !e.Interval.Contains(e.Difference) || e.P != 0.1 {
		t.Errorf("%+v", e.Outcome)
	}
	apart := bench{measures: size, pieces: numberHead + rows("b", "5", "5", "5", "5") + rows("a", "3", "3", "3", "3")}.of(t).first()
	if apart.HasInterval || !apart.HasP || apart.Kind != Differs || apart.Detectable != nil {
		t.Errorf("no scatter at all: %+v", apart.Outcome)
	}
}

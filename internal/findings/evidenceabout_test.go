package findings

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/design"
)

// Evidence about one factor is what EvidenceOf has on it, though the other factors were
// left out, and a study mentions the factors that it is evidence about.
func TestEvidenceAbout(t *testing.T) {
	studies := manyStudies(120)
	draught := StudyDifference{Factor: design.Factor{Kind: design.Observed, Name: "draught"},
		Of: StudyLevel{"yes", "yes"}, Against: StudyLevel{"no", "no"}}
	for i := 0; i < len(studies); i += 4 { // confounded by something that was never varied on purpose
		c := &studies[i].Contrasts[0]
		c.Differing = append(c.Differing, draught)
	}
	all := EvidenceOf(studies)
	if len(all) == 0 {
		t.Fatal("no evidence")
	}
	tried := map[string]int{}
	for _, s := range studies {
		for _, m := range s.Mentions() {
			if m.Tried {
				tried[FactorKey(m.Factor)]++
			}
		}
	}
	same := cmp.Options{cmpopts.EquateNaNs(), cmp.AllowUnexported(EvidenceRow{}, PooledEffect{}, pair{})}
	for _, want := range all {
		key := FactorKey(want.Factor)
		got, ok := EvidenceAbout(key, studies)
		if diff := cmp.Diff(want, got, same); !ok || diff != "" {
			t.Errorf("%s: %v %s", key, ok, diff)
		}
		if tried[key] != len(want.Trials) {
			t.Errorf("%s: %d studies say that they tried it, want %d", key, tried[key], len(want.Trials))
		}
	}
	if _, ok := EvidenceAbout("condition weather", studies); ok {
		t.Error("evidence about a factor that nobody tried")
	}
}

// TestStudyAbout: what is left of studies that are about one factor gives the same evidence on
// it, and none of it names another measure or contrast than before.
func TestStudyAbout(t *testing.T) {
	parts := cmp.Options{cmpopts.EquateNaNs(), cmp.AllowUnexported(EvidenceRow{}, PooledEffect{}, pair{}),
		cmpopts.IgnoreFields(Study{}, "Measures", "Contrasts", "Answers", "Households", "Foods"), cmpopts.IgnoreFields(StudyHousehold{}, "Contrasts"),
		cmpopts.IgnoreFields(StudyContrast{}, "Effects"), cmpopts.IgnoreFields(StudyEffect{}, "Measure"), cmpopts.IgnoreFields(StudyAnswers{}, "Measure", "Contrast")}
	rapid.Check(t, func(t *rapid.T) {
		all := drawStudies(t)
		for _, s := range all {
			if len(s.Contrasts) > 0 && rapid.Bool().Draw(t, "asked") {
				s.Answers = append(s.Answers, StudyAnswers{Measure: 1, Contrast: rapid.IntRange(0, len(s.Contrasts)-1).Draw(t, "of"), N: 9, Right: 7})
			}
		}
		for _, want := range EvidenceOf(all) {
			key := FactorKey(want.Factor)
			var about []*Study
			for _, s := range all {
				a := s.About(key)
				about = append(about, &a)
			}
			got, _ := EvidenceAbout(key, about)
			if d := cmp.Diff(want, got, parts); d != "" {
				t.Fatalf("%s (-whole +about):\n%s", key, d)
			}
			for i, m := range want.Measures {
				for j, r := range m.Rows {
					if was, is := r.Measure(), got.Measures[i].Rows[j].Measure(); was.Name != is.Name {
						t.Fatalf("%s: a row of %s is of %s", key, was.Name, is.Name)
					}
				}
			}
		}
	})
}

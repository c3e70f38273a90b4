package findings

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

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

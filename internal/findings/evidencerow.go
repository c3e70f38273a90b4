package findings

import (
	"slices"
	"strings"
	"unicode"

	"sidebatch.example/sidebatch/internal/stats"
)

// EvidenceRow is one contrast, read in the direction that the rows share: the higher
// level against the lower, with the factor against without it, or, where levels have
// no order, as the oldest trial read them.
type EvidenceRow struct {
	Study     *Study
	Household *StudyHousehold // that repeated the trial; nil for the trial itself
	// Contrast and Effect are as the trial has them, whichever way round the row is
	// read. A row is either an effect or, with Effect nil, a discrimination test.
	Contrast *StudyContrast
	Effect   *StudyEffect
	Answers  *StudyAnswers

	Of, Against   string // the levels; "" is without it
	Turned        bool   // read the other way round than in its trial
	Single        bool   // the factor alone differs
	Also          []string
	Difference    float64
	HasDifference bool
	Interval      stats.Interval
	HasInterval   bool
	// Counted says that the row is one of those that were pooled, Shared that it was
	// left out there because its dough stands in another row of the same trial.
	Counted, Shared bool

	pair pair
}

// rowOf is a contrast on one measure as its trial reads it.
func rowOf(s *Study, h *StudyHousehold, c *StudyContrast, e *StudyEffect) EvidenceRow {
	return EvidenceRow{Study: s, Household: h, Contrast: c, Effect: e,
		Difference: e.Difference, HasDifference: e.HasDifference,
		Interval: e.Interval, HasInterval: e.HasInterval}
}

// Measure is the row's measure as its own trial defines it.
func (r *EvidenceRow) Measure() *StudyMeasure {
	return &r.Study.Measures[r.MeasureNumber()]
}

// MeasureNumber is which of its study's measures that is, from 0.
func (r *EvidenceRow) MeasureNumber() int {
	if r.Answers != nil {
		return r.Answers.Measure
	}
	return r.Effect.Measure
}

// cook is who compared: a trial's own kitchen, or a household that repeated the trial.
type cook struct {
	study     *Study
	household *StudyHousehold
}

func (r *EvidenceRow) cook() cook { return cook{r.Study, r.Household} }

// strata counts the kitchens behind rows: those of trials, and of households. As in all lists
// of rows, those of one kitchen stand together, and with them those of its trial.
func strata(rows []*EvidenceRow) int {
	n := 0
	for i, r := range rows {
		if i == 0 || r.cook() != rows[i-1].cook() {
			n++
		}
	}
	return n
}

// trialsOf counts the trials behind rows, and the households that repeated them.
func trialsOf(rows []*EvidenceRow) (trials, households int) {
	for i, r := range rows {
		if i == 0 || r.Study != rows[i-1].Study {
			trials++
		}
		if r.Household != nil && (i == 0 || r.cook() != rows[i-1].cook()) {
			households++
		}
	}
	return trials, households
}

// recipesOf counts the different recipes behind rows, by name without regard to case and
// spacing.
func recipesOf(rows []*EvidenceRow) int {
	written, recipes := map[string]bool{}, map[string]bool{}
	for _, r := range rows {
		if name := r.Study.Recipe; !written[name] {
			written[name], recipes[wordsKey(name)] = true, true
		}
	}
	return len(recipes)
}

// wordsKey is alike for what [sameWords] calls the same: of each letter's forms the
// first by number stands for all.
func wordsKey(text string) string {
	return strings.Map(func(r rune) rune {
		first := r
		for form := unicode.SimpleFold(r); form != r; form = unicode.SimpleFold(form) {
			first = min(first, form)
		}
		return first
	}, strings.Join(strings.Fields(text), " "))
}

// independent leaves out every contrast that shares a dough with an earlier one of
// its kitchen.
func independent(rows []*EvidenceRow) []*EvidenceRow {
	kept := make([]*EvidenceRow, 0, len(rows))
	var used []string // doughs of the kitchen
	for i, r := range rows {
		if i > 0 && r.cook() != rows[i-1].cook() {
			used = used[:0]
		}
		of, against := r.Contrast.OfDough, r.Contrast.AgainstDough
		r.Shared = slices.Contains(used, of) || slices.Contains(used, against)
		if !r.Shared {
			kept = append(kept, r)
		}
		used = append(used, of, against)
	}
	return kept
}

package trial

import (
	"slices"

	"sidebatch.example/sidebatch/internal/design"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/wording"
)

// Check holds the parts of a trial against each other: what only shows when all
// of it has been read. Reading has reported the rest.
func (t *Trial) Check(problems *problem.List) {
	c := checker{t, problems}
	c.controls()
	c.contrasts()
	for _, s := range t.Samples {
		c.balance(s)
		c.count(s)
	}
	c.primary()
	c.fats()
	c.coarse()
	c.allergens()
}

type checker struct {
	*Trial
	problems *problem.List
}

func (c checker) controls() {
	var controls []*Sample
	for _, s := range c.Samples {
		if s.Control {
			controls = append(controls, s)
		}
	}
	switch {
	case len(controls) == 0 && len(c.Samples) > 1:
		c.problems.Ask(c.Samples[0].Place, problem.Design, "write control: true in the sample that the others are held against",
			"no sample is the control")
	case len(controls) > 1:
		c.problems.Hinted(controls[1].Place, problem.Design, "keep the one that the others are held against",
			"%q and %q are both marked control", controls[0].Key, controls[1].Key)
	}
}

// contrasts asks when no pair of samples is evidence about one factor.
func (c checker) contrasts() {
	if len(c.Samples) < 2 {
		if len(c.Samples) == 1 {
			c.problems.Ask(c.Samples[0].Place, problem.Design, "a trial compares at least two", "there is only one sample")
		}
		return
	}
	contrasts := c.Contrasts(nil)
	for _, contrast := range contrasts {
		if contrast.Differing() == 0 {
			c.problems.Ask(c.Sample(contrast.Sample).Place, problem.Design, "",
				"%q does not differ from %q in any factor", contrast.Sample, contrast.Against)
		}
	}
	if !slices.ContainsFunc(contrasts, design.Contrast.Single) {
		c.problems.Ask(c.Samples[0].Place, problem.Design, "change one thing at a time, or add a sample between the two",
			"no two samples differ in exactly one factor, so no effect can be put down to any")
	}
}

// balance reports what cannot be: more dough than went in, or more pieces than
// dough. The instrument's step on every weighing is allowed for.
func (c checker) balance(s *Sample) {
	if s.TakenFrom != nil {
		return
	}
	b := c.Balance(s)
	c.loss(s, b)
	step, _ := c.Kitchen.Instruments.Scale.Base()
	if b.Known && b.Loss.Neg().Cmp(step.Mul(quantity.Int(int64(1+len(s.Plan.Ingredients))))) > 0 && !b.About {
		c.problems.Hinted(s.DoughPlace, problem.Impossible, "was something weighed with the bowl, or an amount under used left out?",
			"the dough weighs %s g, but only %s g went in", b.Dough.Decimal(0), b.In.Decimal(0))
	}
	if b.Dough.Sign() > 0 && b.Pieces.Sub(b.Dough).Cmp(step.Mul(quantity.Int(int64(1+s.Weighed.Divided)))) > 0 {
		c.problems.Errorf(s.DoughPlace, problem.Impossible, "%d pieces of %s make more than the dough of %s g",
			s.Weighed.Divided, s.Weighed.Each, b.Dough.Decimal(0))
	}
}

// Balance is the mass balance of the batch a sample was made from.
func (t *Trial) Balance(s *Sample) recipe.Balance {
	return t.Made(s).Balance(s.Weighed)
}

// loss asks about a batch that lost more than a dough divided by hand usually does.
func (c checker) loss(s *Sample, b recipe.Balance) {
	if b.Known && recipe.DoughLoss().High.Less(b.Percent) {
		c.problems.Ask(s.DoughPlace, problem.Loss, "was part of it not weighed, or an amount under used left out?",
			"%s %% of what went in is not in the dough of %s g", b.Percent.Decimal(0), b.Dough.Decimal(0))
	}
}

// coarse asks about weighed amounts, at the size of the test batch, that the scale
// knows to no better than a quarter of themselves.
func (c checker) coarse() {
	for _, i := range c.Recipe.Scale(c.TestedAt).Ingredients {
		r, ok := i.Resolution(c.Kitchen.Instruments)
		if ok && r.Grade >= recipe.Poor && i.Amount.Dimension() == quantity.Mass {
			english := quantity.Instruments{Volumes: c.Kitchen.Instruments.Volumes}
			c.problems.Ask(c.ingredientPlaces[i.Role], problem.Coarse, "a spoon or a finer scale may tell it better",
				"%s", ResolutionWords(wording.English(), english, i.Food, r))
		}
	}
}

// count asks when a sample has more pieces in the log than its dough was divided
// into, or fewer. Pieces taken from a dough count in that dough's division.
func (c checker) count(s *Sample) {
	if s.TakenFrom != nil || s.Weighed.Divided == 0 || len(c.Pieces) == 0 {
		return
	}
	family := []string{s.Key}
	for _, o := range c.Samples {
		if o.Origin() == s {
			family = append(family, o.Key)
		}
	}
	batches := map[int]bool{}
	recorded := 0
	for _, p := range c.Pieces {
		if slices.Contains(family, p.Sample) {
			recorded++
			batches[p.Batch] = true
		}
	}
	planned := s.Weighed.Divided * max(len(batches), 1)
	if recorded == planned {
		return
	}
	c.problems.Ask(s.Place, problem.Design, "a piece that was not tested can stand in the log with empty cells",
		"%q was divided into %d, and the log has %s", s.Key, planned, count(recorded, "piece"))
}

// Origin is the sample whose dough the pieces are in the end.
func (s *Sample) Origin() *Sample {
	for s.TakenFrom != nil {
		s = s.TakenFrom
	}
	return s
}

// fats asks for the package's label of a fat whose row in the food table is older
// than the ban on partly hydrogenated oils.
func (c checker) fats() {
	asked := map[string]bool{}
	for _, s := range c.Samples {
		for _, i := range s.Plan.Ingredients {
			if !i.Found || !food.DatedFat(i.Match.Food) || asked[i.Food] || c.labelled(i.Food) {
				continue
			}
			asked[i.Food] = true
			c.problems.Ask(s.Place, problem.DatedFat, "copy the package's figures under labels:",
				"the food table's row for %q is older than the ban on partly hydrogenated fat", i.Food)
		}
	}
}

func (c checker) labelled(name string) bool {
	for _, l := range c.Labels {
		if l.Food == name {
			return true
		}
	}
	return false
}

func (c checker) primary() {
	for _, m := range c.Measures {
		if m.Primary {
			return
		}
	}
	if len(c.Measures) > 1 {
		c.problems.Ask(c.Measures[0].Place, problem.Design, "mark the one that the question turns on with primary: true",
			"no measure is primary, so every finding is exploratory")
	}
}

// Contrasts returns the pairs of samples with the factors that differ; the control
// comes first. Unplanned differences are asked for where observed is given.
func (t *Trial) Contrasts(observed func(sample, against *Sample) []design.Difference) []design.Contrast {
	ordered := t.Ordered()
	versions := make([]design.Version, 0, len(ordered))
	for _, s := range ordered {
		versions = append(versions, t.Version(s))
	}
	return design.Contrasts(versions, func(sample, against string) []design.Difference {
		unplanned := t.unplanned(t.Sample(sample), t.Sample(against))
		if observed != nil {
			unplanned = append(unplanned, observed(t.Sample(sample), t.Sample(against))...)
		}
		return unplanned
	})
}

// unplanned returns the roles whose amounts that really went in differ between two
// samples by more than the scale can tell, though the plan had them alike.
func (t *Trial) unplanned(sample, against *Sample) []design.Difference {
	made, other := t.Made(sample), t.Made(against)
	var found []design.Difference
	for _, i := range made.Ingredients {
		o, ok := other.Ingredient(i.Role)
		if !ok || !t.apart(i.Amount, o.Amount) {
			continue
		}
		found = append(found, design.Difference{
			Factor:  design.Factor{Kind: design.Ingredient, Name: i.Role},
			Sample:  t.Kitchen.Instruments.Words(i.Amount),
			Against: t.Kitchen.Instruments.Words(o.Amount),
		})
	}
	return found
}

// apart reports whether two amounts differ by more than the instrument's step.
// Amounts of different dimensions, a spoon here and a weight there, are not held
// against each other.
func (t *Trial) apart(a, b quantity.Amount) bool {
	if a.Dimension() != b.Dimension() || a.IsToTaste() || b.IsToTaste() {
		return false
	}
	low, high := a.Base()
	otherLow, otherHigh := b.Base()
	var step quantity.Number
	if a.Dimension() == quantity.Mass {
		step, _ = t.Kitchen.Instruments.Scale.Base()
	}
	return low.Sub(otherLow).Abs().Cmp(step) > 0 || high.Sub(otherHigh).Abs().Cmp(step) > 0
}

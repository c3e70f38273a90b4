package recipe

import (
	"slices"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// Sum is how much of one nutrient something holds, exact, in the nutrient's unit.
// A gap is never counted as 0: where a role in it has no value, the sum is not
// complete, and what was added up is "at least".
type Sum struct {
	Amount   quantity.Number
	Complete bool     // every role has a value
	Missing  []string // roles without a value: not reported, not found, or of unknown mass
	Counted  int      // roles whose value is in Amount
}

// Known reports whether Amount says anything: the whole or at least a part.
func (s Sum) Known() bool { return s.Complete || s.Counted > 0 }

// Sums are the sums of all nutrients, in the order of food.AllNutrients. Trans fat
// lies inside mono- and polyunsaturated fat already; add none of them up.
type Sums []Sum

// Of returns the sum of one nutrient. Of nil sums it is not known.
func (s Sums) Of(n food.Nutrient) Sum {
	if int(n) >= len(s) {
		return Sum{}
	}
	return s[n]
}

// Plus adds up two sums, nutrient by nutrient; nil if either is.
func (s Sums) Plus(t Sums) Sums {
	if s == nil || t == nil {
		return nil
	}
	both := make(Sums, len(s))
	for n := range both {
		a, b := s[n], t.Of(food.Nutrient(n))
		both[n] = Sum{
			Amount:   a.Amount.Add(b.Amount),
			Complete: a.Complete && b.Complete,
			Missing:  slices.Concat(a.Missing, b.Missing),
			Counted:  a.Counted + b.Counted,
		}
	}
	return both
}

// times multiplies every sum.
func (s Sums) times(by quantity.Number) Sums {
	if s == nil {
		return nil
	}
	scaled := slices.Clone(s)
	for n := range scaled {
		scaled[n].Amount = scaled[n].Amount.Mul(by)
	}
	return scaled
}

// Held is what a batch or a piece holds: what is in it, and what was used beside
// it. Of that, the oil in a pan is eaten in part, a filling whole; how much is not
// known.
type Held struct {
	Dough  Sums // what goes into the dough, pot or bowl
	Beside Sums // all of what is used beside it
}

// All is the dough with all of what is used beside it: the most that can be eaten.
func (h Held) All() Sums { return h.Dough.Plus(h.Beside) }

// StandIn is an ingredient for which the food table has only another food, which
// a page must say.
type StandIn struct {
	Role, Food string
	Row        string // the row that stands in
	Note       string
}

// Dated is a fat whose row is older than the ban on partly hydrogenated oils, for
// which the label of the package is asked. See [food.DatedFat].
type Dated struct {
	Role, Food string
	Row        string
}

// Nutrition is what a recipe holds at its size. Everything is exact; rounding for
// a reader is LabelRound's.
type Nutrition struct {
	Batch   Held
	Piece   Held            // the batch by the yield; nil sums where the recipe does not say how many it makes
	Pieces  quantity.Number // the yield, 0 where not said
	Hundred Sums            // of 100 g of the raw batch, without what stands beside it; nil where nothing can be weighed
	Grams   quantity.Number // raw mass of the batch, as far as it can be weighed
	About   bool            // a mass leans on a density, a household measure or the middle of a range

	// Unweighed are the roles of the batch whose mass is not known: Grams is
	// without them, so that Hundred is of 100 g of the rest.
	Unweighed []string
	StandIns  []StandIn
	Dated     []Dated
	Labels    []LabelUse // where a package's label was used
}

// Nutrition adds up what the recipe's ingredients hold, from the labels where one
// names the ingredient's food and else from the food table, raw and whole as
// written. An amount to taste has no value, except of a nutrient of which the
// table reports 0: none of it is none at any mass. Energy is the publisher's own
// figure for each food, or the label's, and not worked out from 4, 4 and 9 kcal.
// A weighed amount counts as its edible part. What cooking drives off, or leaves in
// the pan, is not modelled, which a page must say.
func (r Recipe) Nutrition(labels []Label) Nutrition {
	n := Nutrition{Pieces: r.Makes.Count}
	var dough, beside []supply
	for _, i := range r.Ingredients {
		s := supplyOf(i, labels)
		n.note(s)
		n.About = n.About || s.mass.About
		if r.IsBeside(i) {
			beside = append(beside, s)
			continue
		}
		dough = append(dough, s)
		if !s.weighed {
			n.Unweighed = append(n.Unweighed, i.Role)
		}
		n.Grams = n.Grams.Add(s.mass.Grams)
	}
	n.Batch = Held{Dough: total(dough, supply.value), Beside: total(beside, supply.value)}
	if one, ok := quantity.Int(1).Quo(n.Pieces); ok && one.Sign() > 0 {
		n.Piece = Held{Dough: n.Batch.Dough.times(one), Beside: n.Batch.Beside.times(one)}
	}
	if by, ok := quantity.Int(100).Quo(n.Grams); ok {
		n.Hundred = total(dough, supply.weighedValue).times(by)
	}
	return n
}

// note lists what a page must say about where a line's values come from.
func (n *Nutrition) note(s supply) {
	i := s.line
	if s.label != nil {
		n.Labels = append(n.Labels, s.use())
	}
	if s.standIn() {
		n.StandIns = append(n.StandIns, StandIn{Role: i.Role, Food: i.Food, Row: i.Match.Food.Description, Note: i.Match.Note})
	}
	if s.dated() {
		n.Dated = append(n.Dated, Dated{Role: i.Role, Food: i.Food, Row: i.Match.Food.Description})
	}
}

// total adds up what lines hold, for every nutrient.
func total(of []supply, value func(supply, food.Nutrient) food.Value) Sums {
	nutrients := food.AllNutrients()
	sums := make(Sums, len(nutrients))
	for _, n := range nutrients {
		sum := Sum{Complete: true}
		for _, s := range of {
			v := value(s, n)
			if !v.Reported {
				sum.Complete = false
				sum.Missing = append(sum.Missing, s.line.Role)
				continue
			}
			sum.Amount = sum.Amount.Add(v.Amount)
			sum.Counted++
		}
		sums[n] = sum
	}
	return sums
}

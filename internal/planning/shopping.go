package planning

import (
	"slices"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
)

// Line is one food of the shopping list, with all that every dough of every sample
// takes of it.
type Line struct {
	Food string // as the note first writes it
	// Sums are exact, one for each kind of amount that the food is written in: what is
	// weighed here and spooned there is not added up.
	Sums    []recipe.Ingredient
	ToTaste bool // some is added to taste, which no sum holds
	// Beside says that some, or all, of it is used beside the dough, as on a griddle.
	Beside bool
	// Samples take it; nil where all do that have a dough of their own.
	Samples []*Sample

	key string
}

// shopping adds up what the planned doughs of all samples take, at the size that is
// tested and with what is used beside them.
func (p *Plan) shopping() []Line {
	var lines []Line
	for i := range p.Samples {
		s := &p.Samples[i]
		if s.doughs().Sign() == 0 {
			continue
		}
		plan := p.Trial.Planned(s.Sample).Scale(s.doughs())
		for _, ingredient := range plan.Ingredients {
			key := buyKey(ingredient)
			at := slices.IndexFunc(lines, func(l Line) bool { return l.key == key })
			if at < 0 {
				lines, at = append(lines, Line{Food: ingredient.Food, key: key}), len(lines)
			}
			lines[at].add(ingredient, s)
			lines[at].Beside = lines[at].Beside || plan.IsBeside(ingredient)
		}
	}
	doughs := 0
	for i := range p.Samples {
		if p.Samples[i].TakenFrom == nil {
			doughs++
		}
	}
	for i := range lines {
		if len(lines[i].Samples) == doughs {
			lines[i].Samples = nil
		}
	}
	return lines
}

// buyKey is alike for what is bought as one thing: the same row of the food table, but
// not foods that another one only stands in for.
func buyKey(i recipe.Ingredient) string {
	if i.Found && i.Match.Via >= food.EverydayClose {
		i.Found = false
	}
	return findings.FoodKey(i)
}

func (l *Line) add(i recipe.Ingredient, s *Sample) {
	if !slices.Contains(l.Samples, s) {
		l.Samples = append(l.Samples, s)
	}
	if i.Amount.IsToTaste() {
		l.ToTaste = true
		return
	}
	for n := range l.Sums {
		if sum, err := l.Sums[n].Amount.Plus(i.Amount); err == nil {
			l.Sums[n].Amount = sum
			return
		}
	}
	l.Sums = append(l.Sums, i)
}

// ToBuy is one sum as a shopper reads it.
type ToBuy struct {
	Shown quantity.Shown
	// Whole says that a counted food was rounded up to whole ones, and Used how much of
	// them is used.
	Whole bool
	Used  string
}

// ToBuy rounds the sums of a line up for a shopper of a unit system. Where all of them
// are read in mass, a spoonful beside what is weighed, they are one amount, about.
func (l Line) ToBuy(in quantity.Instruments, s quantity.System) []ToBuy {
	sums := l.Sums
	if together, ok := l.together(in, s); ok {
		sums = []recipe.Ingredient{together}
	}
	var all []ToBuy
	for _, sum := range sums {
		buy := RoundUp(sum, in, s)
		buy.Shown.About = buy.Shown.About || len(sums) < len(l.Sums)
		all = append(all, buy)
	}
	return all
}

// together adds up the masses of several sums, where each is shown as a mass.
func (l Line) together(in quantity.Instruments, s quantity.System) (recipe.Ingredient, bool) {
	if len(l.Sums) < 2 {
		return recipe.Ingredient{}, false
	}
	var grams quantity.Number
	for _, sum := range l.Sums {
		mass, known := sum.Mass()
		if !known || sum.Amount.IsRange() || sum.Show(in, s).Value.Dimension() != quantity.Mass {
			return recipe.Ingredient{}, false
		}
		grams = grams.Add(mass.Grams)
	}
	sum := l.Sums[0]
	sum.Amount = quantity.New(grams, quantity.Gram)
	return sum, true
}

// RoundUp rounds a sum up to what the kitchen can measure, or to whole ones of what is
// counted: never less than is used.
func RoundUp(i recipe.Ingredient, in quantity.Instruments, s quantity.System) ToBuy {
	if i.Amount.Dimension() == quantity.Count {
		whole := quantity.Between(ceiling(i.Amount.Low()), ceiling(i.Amount.High()), i.Amount.Unit())
		return ToBuy{Shown: in.Show(whole, s), Whole: !whole.Equal(i.Amount), Used: in.Words(i.Amount)}
	}
	shown := i.Show(in, s)
	low, high := shown.Value.Base()
	want := [2]quantity.Number{low.Sub(shown.Residue), high.Sub(shown.Residue)}
	more := shown.Residue.Neg()
	exact := i.Amount
	// Half a step more than was lost rounds to the next step; the steps of spoons and
	// of ounces are not all alike, so what is missing is doubled until it is reached.
	for range 64 {
		if low, high = shown.Value.Base(); more.Sign() <= 0 || !low.Less(want[0]) && !high.Less(want[1]) {
			break
		}
		by, _ := want[1].Add(more).Quo(want[1])
		i.Amount = exact.Scale(by)
		shown = i.Show(in, s)
		more = more.Mul(quantity.Int(2))
	}
	return ToBuy{Shown: shown}
}

// ceiling is the smallest whole number that is not below n.
func ceiling(n quantity.Number) quantity.Number { return n.Neg().Floor().Neg() }

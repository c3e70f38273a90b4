package recipe

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// drawRecipe draws a recipe of masses, US spoons and cups, and counts. Metric
// volumes are left out: the food table may weigh a large one by another of its
// measures than a small one, so that they do not scale straight.
func drawRecipe(t *rapid.T) Recipe {
	foods := []string{"all-purpose flour", "butter", "whole milk", "egg", "granulated sugar", "table salt", "olive oil",
		"cocoa powder", "almond extract", "vegetable shortening", "moon dust", "labelled spread"}
	r := Recipe{Makes: Yield{Count: quantity.Int(rapid.Int64Range(0, 30).Draw(t, "pieces"))}}
	for n := range rapid.IntRange(0, 9).Draw(t, "lines") {
		i := Ingredient{Role: string(rune('a' + n)), Food: rapid.SampledFrom(foods).Draw(t, "food")}
		i.Match, i.Found = food.Find(i.Food)
		amount := quantity.Ratio(rapid.Int64Range(1, 3000).Draw(t, "amount"), rapid.Int64Range(1, 12).Draw(t, "of"))
		unit := rapid.SampledFrom([]quantity.Unit{quantity.Gram, quantity.Ounce, quantity.Each, quantity.Cup, quantity.Tablespoon,
			quantity.Teaspoon}).Draw(t, "unit")
		i.Amount = quantity.New(amount, unit)
		if rapid.IntRange(0, 9).Draw(t, "to taste") == 0 {
			i.Amount = quantity.ToTaste()
		}
		r.Ingredients = append(r.Ingredients, i)
		if rapid.IntRange(0, 4).Draw(t, "beside") == 0 {
			r.Beside = append(r.Beside, i.Role)
		}
	}
	return r
}

func drawLabels(t *rapid.T) []Label {
	if !rapid.Bool().Draw(t, "labels") {
		return nil
	}
	serving := rapid.SampledFrom([]quantity.Unit{quantity.Gram, quantity.Tablespoon}).Draw(t, "serving")
	return []Label{
		{Food: "labelled spread", Serving: quantity.New(quantity.Int(15), serving),
			Values: map[food.Nutrient]quantity.Number{food.Energy: quantity.Int(90), food.Fat: quantity.Int(9)}},
		{Food: "olive oil", Serving: quantity.New(quantity.Int(14), quantity.Gram),
			Values: map[food.Nutrient]quantity.Number{food.Saturated: quantity.Int(2)}},
	}
}

// alikeSums compares sums whose missing roles may stand in another order.
func alikeSums(a, b Sums) bool {
	return slices.EqualFunc(a, b, func(x, y Sum) bool {
		return x.Amount.Equal(y.Amount) && x.Complete == y.Complete && x.Counted == y.Counted &&
			slices.Equal(slices.Sorted(slices.Values(x.Missing)), slices.Sorted(slices.Values(y.Missing)))
	})
}

// TestNutritionScales: a recipe taken any number of times holds that many times as
// much, with the same gaps; 100 g of it and a piece hold the same.
func TestNutritionScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, labels := drawRecipe(t), drawLabels(t)
		by := quantity.Ratio(rapid.Int64Range(1, 60).Draw(t, "times"), rapid.Int64Range(1, 12).Draw(t, "per"))
		one, many := r.Nutrition(labels), r.Scale(by).Nutrition(labels)
		if !alikeSums(one.Batch.Dough.times(by), many.Batch.Dough) || !alikeSums(one.Batch.Beside.times(by), many.Batch.Beside) {
			t.Error("the batch does not scale")
		}
		if !alikeSums(one.Hundred, many.Hundred) || !alikeSums(one.Piece.Dough, many.Piece.Dough) {
			t.Error("100 g or a piece changed with the size")
		}
	})
}

// TestNutritionPieces: all pieces together are the batch.
func TestNutritionPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRecipe(t)
		n := r.Nutrition(drawLabels(t))
		if r.Makes.Count.Sign() == 0 {
			if n.Piece.Dough != nil || n.Piece.Beside != nil {
				t.Error("pieces of an unknown number")
			}
			return
		}
		if !alikeSums(n.Piece.Dough.times(n.Pieces), n.Batch.Dough) || !alikeSums(n.Piece.All().times(n.Pieces), n.Batch.All()) {
			t.Error("the pieces are not the batch")
		}
	})
}

// TestNutritionMore: one ingredient more never lowers a sum, and never fills a gap.
func TestNutritionMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, labels := drawRecipe(t), drawLabels(t)
		if len(r.Ingredients) == 0 {
			return
		}
		last := len(r.Ingredients) - 1
		with := r.Nutrition(labels).Batch.All()
		r.Ingredients = r.Ingredients[:last]
		without := r.Nutrition(labels).Batch.All()
		for n := range with {
			a, b := without[n], with[n]
			if b.Amount.Less(a.Amount) || b.Complete && !a.Complete {
				t.Errorf("%s: %+v, and with more %+v", food.Nutrient(n).Name(), a, b)
			}
			if gap := len(b.Missing) + b.Counted; gap != last+1 {
				t.Errorf("%s: %d of %d roles are told of", food.Nutrient(n).Name(), gap, last+1)
			}
			if b.Complete != (len(b.Missing) == 0) {
				t.Errorf("%s: complete is %t with %q missing", food.Nutrient(n).Name(), b.Complete, b.Missing)
			}
		}
	})
}

// TestNutritionOrder: the order of the lines is nothing to a sum.
func TestNutritionOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, labels := drawRecipe(t), drawLabels(t)
		one := r.Nutrition(labels)
		r.Ingredients = rapid.Permutation(r.Ingredients).Draw(t, "order")
		other := r.Nutrition(labels)
		if !alikeSums(one.Batch.Dough, other.Batch.Dough) || !alikeSums(one.Batch.Beside, other.Batch.Beside) || !alikeSums(one.Hundred, other.Hundred) {
			t.Error("another order, another sum")
		}
	})
}

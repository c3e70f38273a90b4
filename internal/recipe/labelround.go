package recipe

import (
	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// Rounded is an amount as a US-style nutrition label declares it.
type Rounded struct {
	Number   quantity.Number // in Unit
	LessThan bool            // less than Number
	AtLeast  bool            // Number or more: a part is not known
	Unit     string          // the nutrient's: kcal, g, mg or µg
	Also     []Rounded       // what the rule allows in its place
}

// LabelRound rounds the amount of a nutrient in a serving as 21 CFR 101.9(c) does,
// in the form of Appendix H to the Food Labeling Guide of the US Food and Drug
// Administration; halves go up. Amounts are in the nutrient's unit. ok is false for
// what that label has no rule for (water, alcohol, ash) and for amounts below 0.
//
//   - energy (c)(1): 0 below 5 kcal, to 5 up to 50, to 10 above;
//   - fats (c)(2): 0 below 0.5 g, to 0.5 below 5, to 1 from 5 on;
//   - cholesterol (c)(3): 0 below 2 mg, "less than 5 mg" up to 5, to 5 above;
//   - sodium (c)(4): 0 below 5 mg, to 5 up to 140, to 10 above;
//   - carbohydrate, fibre, sugars, protein (c)(6) and (7): 0 below 0.5 g, "less
//     than 1 g" below 1, to 1 from there;
//   - other vitamins and minerals (c)(8)(iii) and (iv): to 0.1 where the daily
//     value is below 25, to 1 below 250 (81 FR 33742, looked up), to 10 from there
//     (from memory); below 2 % of the daily value 0 is allowed in its place.
func LabelRound(n food.Nutrient, amount quantity.Number) (Rounded, bool) {
	rule, ok := labelRuleOf(n)
	if !ok || amount.Sign() < 0 {
		return Rounded{}, false
	}
	r := rule.round(amount)
	r.Unit = n.Unit()
	for i := range r.Also {
		r.Also[i].Unit = r.Unit
	}
	return r, true
}

// Rounded is the sum for a reader, rounded as on a US-style label. What is not
// complete is at least its amount rounded down to the label's step, or to a tenth
// below the first step, so that it stays true, and not known where that says
// nothing. What the label has no rule for has one decimal.
func (s Sum) Rounded(n food.Nutrient) (r Rounded, known bool) {
	rule, ok := labelRuleOf(n)
	if !ok {
		rule = labelRule{fine: quantity.Ratio(1, 10), coarse: quantity.Ratio(1, 10)}
	}
	if s.Complete {
		r = rule.round(s.Amount)
		r.Unit = n.Unit()
		return r, true
	}
	least := down(s.Amount, rule.step(s.Amount))
	if least.Sign() <= 0 {
		least = down(s.Amount, quantity.Ratio(1, 10)) // what a label would call 0 is more than is known of a gap
	}
	return Rounded{Number: least, AtLeast: true, Unit: n.Unit()}, least.Sign() > 0
}

// labelRule is how one kind of nutrient is rounded. Where two steps meet, both
// give the same.
type labelRule struct {
	zero         quantity.Number // what is below it is 0
	nearest      bool            // the nearest step is allowed below zero, too
	unlisted     quantity.Number // below it, 0 is allowed in place of the nearest step
	lessThan     quantity.Number // from zero on, "less than" this; 0: no such words
	lessAt       bool            // and at it
	fine, coarse quantity.Number // steps
	edge         quantity.Number // from which on the step is coarse
}

func labelRuleOf(n food.Nutrient) (labelRule, bool) {
	half, one, five, ten := quantity.Ratio(1, 2), quantity.Int(1), quantity.Int(5), quantity.Int(10)
	switch n {
	case food.Energy:
		return labelRule{zero: five, nearest: true, fine: five, coarse: ten, edge: quantity.Int(50)}, true
	case food.Fat, food.Saturated, food.Monounsaturated, food.Polyunsaturated, food.Trans:
		return labelRule{zero: half, fine: half, coarse: one, edge: five}, true
	case food.Cholesterol:
		return labelRule{zero: quantity.Int(2), lessThan: five, lessAt: true, fine: five, coarse: five}, true
	case food.Sodium:
		return labelRule{zero: five, fine: five, coarse: ten, edge: quantity.Int(140)}, true
	case food.Carbohydrate, food.Fibre, food.Sugars, food.Protein:
		return labelRule{zero: half, lessThan: one, fine: one, coarse: one}, true
	}
	value, ok := DailyValue(n)
	if !ok {
		return labelRule{}, false
	}
	step := ten
	switch {
	case value.Less(quantity.Int(25)):
		step = quantity.Ratio(1, 10)
	case value.Less(quantity.Int(250)):
		step = one
	}
	return labelRule{unlisted: value.Mul(quantity.Ratio(1, 50)), fine: step, coarse: step}, true
}

func (l labelRule) step(amount quantity.Number) quantity.Number {
	if amount.Less(l.edge) {
		return l.fine
	}
	return l.coarse
}

func (l labelRule) round(amount quantity.Number) Rounded {
	near, _ := amount.RoundTo(l.step(amount))
	side := amount.Cmp(l.lessThan)
	switch {
	case amount.Less(l.zero):
		return declared(Rounded{}, near, l.nearest)
	case side < 0, side == 0 && l.lessAt:
		return declared(Rounded{Number: l.lessThan, LessThan: true}, near, true)
	}
	return declared(Rounded{Number: near}, quantity.Number{}, amount.Less(l.unlisted))
}

// declared adds the number that may stand in a declaration's place, if it is another.
func declared(r Rounded, other quantity.Number, allowed bool) Rounded {
	if allowed && (r.LessThan && other.Sign() > 0 || !r.LessThan && !other.Equal(r.Number)) {
		r.Also = []Rounded{{Number: other}}
	}
	return r
}

// down rounds down to a step.
func down(amount, step quantity.Number) quantity.Number {
	times, _ := amount.Quo(step) // no step is 0
	return times.Floor().Mul(step)
}

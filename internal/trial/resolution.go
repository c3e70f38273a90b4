package trial

import (
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/wording"
)

// ResolutionWords says, as a sentence without its full stop, how well a scale knows
// what was weighed of a food: "6 g of salt on a scale that reads to 3 g is known to
// half of itself". The kitchen's instruments give the notation of the amounts.
func ResolutionWords(l *wording.Language, in quantity.Instruments, food string, r recipe.Resolution) string {
	say := l.Of("writeup")
	fill := []string{"amount", in.Words(r.Amount), "food", food, "step", in.Words(r.Step)}
	how, to, about := r.Known()
	switch {
	case how == recipe.LessThanStep:
		return say.Say("less than one step", fill...)
	case how == recipe.OneStep:
		return say.Say("one step", fill...)
	case how == recipe.ToPart:
		fill = append(fill, "part", partName(say, to))
	default:
		fill = append(fill, "part", to.Decimal(0)+" %")
	}
	if about {
		return say.Say("known to about a part", fill...)
	}
	return say.Say("known to a part", fill...)
}

// partName names one of [recipe.SimpleParts].
func partName(say wording.Phrases, part quantity.Number) string {
	names := []string{
		say.Say("a tenth"), say.Say("an eighth"), say.Say("a sixth"), say.Say("a fifth"), say.Say("a quarter"),
		say.Say("a third"), say.Say("half"), say.Say("two thirds"), say.Say("three quarters"), say.Say("nine tenths"),
	}
	for n, simple := range recipe.SimpleParts() {
		if simple.Equal(part) {
			return names[n]
		}
	}
	return part.Fraction()
}

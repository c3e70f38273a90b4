package recipe

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/food"
	"sidebatch.example/sidebatch/internal/quantity"
)

// WetShare is the share of water by weight from which on a food counts as wet in
// [BakerPage]: a half. Milk (88 %), egg (76 %), yogurt, cream (58 %) and fresh yeast
// (69 %) are wet so; butter (18 %), honey, maple syrup (32 %) and flour (12 %), whose
// water bakers do not count, are not (common practice, no source; the shares are
// the food table's).
func WetShare() quantity.Number { return quantity.Ratio(1, 2) }

// BakerPage is what a baker reads off a dough: percentages of the flours' mass,
// with the flour and water of preferments counted in the totals.
type BakerPage struct {
	Lines   Percentages // every line, those of preferments by themselves
	Total   Percentages // the same food of the same role added up, in preferments and out
	About   bool        // a mass leans on a density or a household measure
	Missing []string    // roles whose mass is not known: they count nowhere

	Wet         Shares   // the second hydration: all water of wet foods, plain water included
	Kept        []string // wet roles that lie in the dough in pieces: their water is not in Wet
	Salt        Shares   // table salt; not the salt in butter, margarine or self-rising flour
	Yeast       Shares   // fresh or dried, as weighed
	Chemical    Shares   // baking powder, baking soda, cream of tartar; not what is in self-rising flour
	NotFound    []string // roles that the food table does not have: their water, salt and leavening are not counted
	Preferments []Preferment
}

// Shares is a sum of percentages of the flours' mass with its parts.
type Shares struct {
	Parts []Percent
	Total quantity.Number
	// Missing are roles that belong here, or may, and whose share is not known:
	// then Total is "at least".
	Missing []string
}

// Preferment is a dough mixed beforehand: a group that holds flour and something
// else.
type Preferment struct {
	Name      string
	Grams     quantity.Number
	Flour     quantity.Number // g
	Water     quantity.Number // g, plain water
	Hydration quantity.Number // percent of its own flour
	OfFlour   quantity.Number // percent of all flour
}

// Baker returns the baker's page, or false when there is no flour to hold
// anything against, or one whose mass is not known. Percentages.Hydration counts ingredients that are water; Wet
// also counts the water in foods of WetShare or more that mix into a dough. Pieces
// of vegetable, fruit, meat or cheese keep theirs: they are named in Kept unless
// the cook's words or the table's say that they are mashed, grated or poured.
func (r Recipe) Baker() (BakerPage, bool) {
	batch := r.Batch()
	lines, ok := batch.Percentages()
	if !ok {
		return BakerPage{}, false
	}
	total, _ := r.overall(batch.Formula).Together().Percentages()
	b := BakerPage{Lines: lines, Total: total, About: batch.About, Missing: batch.Missing}
	for _, i := range r.Ingredients {
		if !r.IsBeside(i) {
			b.place(i, lines)
		}
	}
	b.Preferments = preferments(batch.Formula, lines.Flour)
	return b, true
}

// place counts a line wherever it belongs.
func (b *BakerPage) place(i Ingredient, lines Percentages) {
	share, known := lines.share(i.Role)
	if !i.Found {
		b.NotFound = append(b.NotFound, i.Role)
		b.Wet.Missing = append(b.Wet.Missing, i.Role)
		return
	}
	add := func(to *Shares, of quantity.Number) {
		if !known {
			to.Missing = append(to.Missing, i.Role)
			return
		}
		percent := share.Mul(of)
		to.Parts = append(to.Parts, Percent{Role: i.Role, Share: percent})
		to.Total = to.Total.Add(percent)
	}
	all := quantity.Int(1)
	switch leaveningOf(i.Match.Food) {
	case yeast:
		add(&b.Yeast, all)
	case chemical:
		add(&b.Chemical, all)
	}
	if i.Match.Food.ID == tableSalt {
		add(&b.Salt, all)
	}
	water, reported := food.WaterShare(i.Match.Food)
	switch {
	case food.IsWater(i.Match.Food):
		add(&b.Wet, all)
	case !reported:
		b.Wet.Missing = append(b.Wet.Missing, i.Role)
	case water.Less(WetShare()):
	case i.keepsWater():
		b.Kept = append(b.Kept, i.Role)
	default:
		add(&b.Wet, water)
	}
}

// share returns the percentage of a role.
func (p Percentages) share(role string) (quantity.Number, bool) {
	at := slices.IndexFunc(p.Parts, func(part Percent) bool { return part.Role == role })
	if at < 0 {
		return quantity.Number{}, false
	}
	return p.Parts[at].Share, true
}

// tableSalt is the only salt of the food table; sea salt and the like are names
// of it.
const tableSalt food.ID = "02047"

// leavening is what makes a dough rise.
type leavening uint8

const (
	none leavening = iota
	yeast
	chemical
)

// leaveningOf knows leavenings by the table's description.
func leaveningOf(f *food.Food) leavening {
	kind, is := strings.CutPrefix(f.Description, "Leavening agents, ")
	switch {
	case !is:
		return none
	case strings.HasPrefix(kind, "yeast"):
		return yeast
	}
	return chemical
}

// Leavens reports whether the ingredient is yeast or a chemical leavening, by the
// row of the food table.
func (i Ingredient) Leavens() bool { return i.Found && leaveningOf(i.Match.Food) != none }

// keepsWater reports whether a wet food lies in the dough in pieces.
func (i Ingredient) keepsWater() bool {
	f := i.Match.Food
	switch f.Group {
	case "Beverages", "Fats and Oils", "Sweets", "Soups, Sauces, and Gravies", "Baked Products":
		return false
	case "Dairy and Egg Products":
		return solidDairy(f.Description)
	}
	if food.IsLiquid(f) {
		return false
	}
	said := strings.ToLower(i.Food + " " + i.Preparation + " " + f.Description)
	return !slices.ContainsFunc([]string{
		"mash", "puree", "purée", "grated", "crushed", "blended", "pumpkin, canned", "applesauce", "silken",
	}, func(word string) bool { return strings.Contains(said, word) })
}

// solidDairy knows the cheeses that are no curd or cream, and cooked eggs.
func solidDairy(description string) bool {
	kind, cheese := strings.CutPrefix(description, "Cheese, ")
	if !cheese {
		return strings.Contains(description, ", cooked")
	}
	return !slices.ContainsFunc([]string{"cottage", "ricotta", "cream", "neufchatel"}, func(soft string) bool {
		return strings.HasPrefix(kind, soft)
	})
}

// overall names the lines of preferments by the role that they have in the whole
// dough, where that dough has the same food in it: poolish/flour is flour.
func (r Recipe) overall(f Formula) Formula {
	named := slices.Clone(f)
	for n, part := range named {
		if part.Preferment == "" {
			continue
		}
		_, role, _ := strings.Cut(part.Role, "/")
		outside, has := r.Ingredient(role)
		inside, _ := r.Ingredient(part.Role)
		if has && !r.IsBeside(outside) && alike(outside, inside) && r.IsFlour(outside) == part.Flour {
			named[n].Role = role
		}
	}
	return named
}

// alike reports whether two lines are the same food.
func alike(a, b Ingredient) bool {
	if a.Found && b.Found {
		return a.Match.Food.ID == b.Match.Food.ID
	}
	return sameFood(a.Food, b.Food)
}

// preferments adds up each preferment of a formula with that much flour.
func preferments(f Formula, flour quantity.Number) []Preferment {
	var all []Preferment
	for _, part := range f {
		if part.Preferment == "" {
			continue
		}
		at := slices.IndexFunc(all, func(p Preferment) bool { return p.Name == part.Preferment })
		if at < 0 {
			at = len(all)
			all = append(all, Preferment{Name: part.Preferment})
		}
		p := &all[at]
		p.Grams = p.Grams.Add(part.Grams)
		if part.Flour {
			p.Flour = p.Flour.Add(part.Grams)
		}
		if part.Water {
			p.Water = p.Water.Add(part.Grams)
		}
	}
	hundred := quantity.Int(100)
	for n := range all {
		p := &all[n]
		p.Hydration, _ = p.Water.Mul(hundred).Quo(p.Flour)
		p.OfFlour, _ = p.Flour.Mul(hundred).Quo(flour)
	}
	return all
}

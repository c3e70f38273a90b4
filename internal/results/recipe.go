package results

import (
	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/trial"
)

// Recipe is the recipe at every size of the kitchen.
type Recipe struct {
	Name             string   `json:"name"`
	Makes            *number  `json:"makes"`
	Pieces           string   `json:"pieces,omitempty"` // what it makes: "pancakes"
	TestedAt         string   `json:"testedAt"`         // share of the full batch: "1/2"
	HydrationPercent *number  `json:"hydrationPercent,omitempty"`
	Sizes            []Size   `json:"sizes"`
	Steps            []string `json:"steps"`
}

// Size is the list of ingredients at one size. Grams is the mass of the batch as
// far as it is known, without what stands beside the dough; missing names the
// roles it leaves out.
type Size struct {
	Size        string       `json:"size"`
	Makes       *number      `json:"makes"`
	Ingredients []Ingredient `json:"ingredients"`
	Grams       number       `json:"grams"`
	Missing     []string     `json:"missing"`
}

// Ingredient is one line. About says that grams, or the words, lean on a density.
type Ingredient struct {
	Role          string  `json:"role"`
	Food          string  `json:"food"`
	Preparation   string  `json:"preparation,omitempty"`
	Beside        bool    `json:"beside,omitempty"`
	Grams         *number `json:"grams"`
	Milliliters   *number `json:"milliliters"`
	About         bool    `json:"about"`
	Metric        string  `json:"metric"`
	MetricError   number  `json:"metricError"` // of the words against the exact amount, as a ratio
	US            string  `json:"us"`
	USError       number  `json:"usError"`
	BakersPercent *number `json:"bakersPercent,omitempty"`
}

// Balance holds what went into a sample's batch against what was weighed.
type Balance struct {
	Sample      string   `json:"sample"`
	InGrams     number   `json:"inGrams"`
	About       bool     `json:"about"`
	DoughGrams  *number  `json:"doughGrams"`
	LossPercent *number  `json:"lossPercent"`
	Missing     []string `json:"missing"`
}

func recipeOf(t *trial.Trial) Recipe {
	r := Recipe{
		Name:     t.Recipe.Name,
		Makes:    makes(t.Recipe),
		Pieces:   t.Recipe.Makes.What,
		TestedAt: sizeText(t.TestedAt),
		Steps:    list(t.Steps(nil)),
		Sizes:    []Size{},
	}
	percentages, bakes := t.Recipe.Batch().Percentages()
	if bakes {
		r.HydrationPercent = ref(percentages.Hydration.Float64())
	}
	for _, size := range t.Kitchen.Sizes {
		r.Sizes = append(r.Sizes, sizeOf(t, size.Of, percentages))
	}
	return r
}

// sizeText writes a size as kitchen.yaml does: 1/2, 1, 3/2.
func sizeText(of quantity.Number) string {
	const largest = 1000
	for below := int64(1); below <= largest; below++ {
		if above := of.Mul(quantity.Int(below)); above.IsInt() && below > 1 {
			return above.String() + "/" + quantity.Int(below).String()
		} else if above.IsInt() {
			break
		}
	}
	return of.String()
}

func makes(r recipe.Recipe) *number {
	if r.Makes.Count.Sign() == 0 {
		return nil
	}
	return ref(r.Makes.Count.Float64())
}

func sizeOf(t *trial.Trial, of quantity.Number, percentages recipe.Percentages) Size {
	scaled := t.Recipe.Scale(of)
	batch := scaled.Batch()
	size := Size{
		Size:        sizeText(of),
		Makes:       makes(scaled),
		Ingredients: []Ingredient{},
		Grams:       number(batch.Formula.Mass().Float64()),
		Missing:     list(batch.Missing),
	}
	shares := map[string]quantity.Number{}
	for _, p := range percentages.Parts {
		shares[p.Role] = p.Share
	}
	in := t.Kitchen.Instruments
	for _, i := range scaled.Ingredients {
		metric, us := i.Show(in, quantity.MetricSystem), i.Show(in, quantity.USSystem)
		line := Ingredient{
			Role:        i.Role,
			Food:        i.Food,
			Preparation: i.Preparation,
			Beside:      scaled.IsBeside(i),
			About:       metric.About || us.About,
			Metric:      metric.Text,
			MetricError: number(metric.RelativeError),
			US:          us.Text,
			USError:     number(us.RelativeError),
		}
		if mass, known := i.Mass(); known {
			line.Grams, line.About = ref(mass.Grams.Float64()), line.About || mass.About
		}
		if volume, known := i.Milliliters(); known {
			line.Milliliters = ref(volume.Float64())
		}
		if share, known := shares[i.Role]; known {
			line.BakersPercent = ref(share.Float64())
		}
		size.Ingredients = append(size.Ingredients, line)
	}
	return size
}

func balances(f *findings.Findings) []Balance {
	all := []Balance{}
	for _, s := range f.Samples {
		if s.TakenFrom != nil {
			continue // its pieces belong to the other one's dough
		}
		b := Balance{
			Sample:  s.Key,
			InGrams: number(s.Balance.In.Float64()),
			About:   s.Balance.About,
			Missing: list(s.Balance.Missing),
		}
		if s.Balance.Dough.Sign() > 0 {
			b.DoughGrams = ref(s.Balance.Dough.Float64())
		}
		if s.Balance.Known {
			b.LossPercent = ref(s.Balance.Percent.Float64())
		}
		all = append(all, b)
	}
	return all
}

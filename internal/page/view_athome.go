package page

// AtHome is what viewers found who repeated a trial.
type AtHome struct {
	Count      string // "4 households, 61 pieces"
	Households []Household
	Measures   []HomeMeasure
	Method     string // address of what adding up means; may be empty
}

// Household is one repeat of a trial.
type Household struct {
	Name   string // the people's, or "Household 2"
	Pieces string
	Log    Link
}

// HomeMeasure is what households and the kitchen showed on one measure.
type HomeMeasure struct {
	Measure string
	Aside   bool     // not what the trial turns on: shown on demand
	Words   []string // a paragraph for each pair of samples
	Figure  *Figure  // nil where there is nothing to draw
}

// Asides are the measures that are shown on demand.
func (a AtHome) Asides() []HomeMeasure {
	var asides []HomeMeasure
	for _, m := range a.Measures {
		if m.Aside {
			asides = append(asides, m)
		}
	}
	return asides
}

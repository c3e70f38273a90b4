package results

import "sidebatch.example/sidebatch/internal/findings"

// Replications are viewers' repeats of the trial.
type Replications struct {
	Households []Household      `json:"households"`
	Contrasts  []RepeatContrast `json:"contrasts"`
}

// Household is one repeat.
type Household struct {
	Household string   `json:"household"`
	Name      string   `json:"name"`
	Named     bool     `json:"named"`
	File      string   `json:"file"`
	Pieces    int      `json:"pieces"`
	Samples   []Sample `json:"samples"`
}

// RepeatContrast is one contrast on one measure, in the kitchen and in households.
type RepeatContrast struct {
	Sample     string      `json:"sample"`
	Against    string      `json:"against"`
	Measure    string      `json:"measure"`
	Households int         `json:"households"`
	Same       *int        `json:"same"`
	Other      *int        `json:"other"`
	Level      int         `json:"level"`
	Rows       []RepeatRow `json:"rows"`
	Pooled     *Pooled     `json:"pooled"`
	NotPooled  string      `json:"notPooled,omitempty"`
	Words      string      `json:"words"`
}

// RepeatRow is what one kitchen or household showed.
type RepeatRow struct {
	Household  string  `json:"household"`
	Difference *number `json:"difference"`
	Low        *number `json:"low"`
	High       *number `json:"high"`
	N          int     `json:"n"`
	NAgainst   int     `json:"nAgainst"`
	Unit       string  `json:"unit"`
	Single     bool    `json:"single"`
	Counted    bool    `json:"counted"`
}

// Pooled is what kitchen and households add up to.
type Pooled struct {
	Difference *number `json:"difference"`
	Low        *number `json:"low"`
	High       *number `json:"high"`
	P          *number `json:"p"`
	AgreeP     *number `json:"agreeP"`
	Strata     int     `json:"strata"`
	Readings   int     `json:"readings"`
	// MonteCarloError is the standard error of p where arrangements were drawn.
	MonteCarloError *number `json:"monteCarloError,omitempty"`
}

// alone is why a contrast is not pooled that one household or kitchen alone has.
const alone = "nothing to add it to"

func replications(f *findings.Findings) *Replications {
	if len(f.Households) == 0 {
		return nil
	}
	r := &Replications{Contrasts: []RepeatContrast{}}
	for _, at := range f.Households {
		h := at.Household
		r.Households = append(r.Households, Household{
			Household: h.Key, Name: h.Name, Named: h.Named, File: h.File.Name, Pieces: len(h.Pieces), Samples: samples(at),
		})
	}
	for i := range f.Repeats {
		r.Contrasts = append(r.Contrasts, repeatOf(&f.Repeats[i]))
	}
	return r
}

func repeatOf(x *findings.Repeat) RepeatContrast {
	c := RepeatContrast{
		Sample: x.Contrast.Of.Key, Against: x.Contrast.Against.Key, Measure: x.Measure.Name,
		Households: x.Households, Level: x.Level, Words: x.Words,
	}
	if x.HasDirection {
		c.Same, c.Other = &x.Same, &x.Other
	}
	for _, row := range x.Rows {
		of := RepeatRow{
			Difference: ref(row.Difference), N: row.Found.Of.Units, NAgainst: row.Found.Against.Units,
			Unit: string(row.Found.Unit), Single: row.Single, Counted: row.Counted,
		}
		if h := row.Findings.Household; h != nil {
			of.Household = h.Key
		}
		if row.HasInterval {
			of.Low, of.High = ref(row.Interval.Low), ref(row.Interval.High)
		}
		c.Rows = append(c.Rows, of)
	}
	p := x.Pooled
	switch {
	case x.Strata < 2:
		c.NotPooled = alone
	case p.Why != findings.IsPooled:
		c.NotPooled = string(p.Why)
	default:
		c.Pooled = &Pooled{Difference: ref(p.Difference), Low: ref(p.Interval.Low), High: ref(p.Interval.High), Strata: x.Strata, Readings: p.Readings}
		if p.HasP {
			c.Pooled.P = ref(p.P)
		}
		if p.Sampled {
			c.Pooled.MonteCarloError = ref(p.MonteCarloError)
		}
		if p.HasAgreeP {
			c.Pooled.AgreeP = ref(p.AgreeP)
		}
	}
	return c
}

package results

import "sidebatch.example/sidebatch/internal/findings"

// Outcome is a difference, the contrast's sample minus the one it is held against:
// of shares from −1 to 1, of means and scores in the base unit, of rank sums. Low and
// high are the ends of its 95 % interval. Unit is what the test counts as one: piece,
// batch, assessor or set; n and nAgainst count those units, and pairs on both sides.
type Outcome struct {
	Answer     string  `json:"answer"` // differs, leans, none seen, nothing to compare
	Difference *number `json:"difference"`
	Low        *number `json:"low"`
	High       *number `json:"high"`
	P          *number `json:"p"`
	PAdjusted  *number `json:"pAdjusted"` // by Holm; p itself outside a family
	Test       string  `json:"test,omitempty"`
	Unit       string  `json:"unit,omitempty"`
	Paired     bool    `json:"paired,omitempty"`
	N          int     `json:"n"`
	NAgainst   int     `json:"nAgainst"`
	// MonteCarloError is the standard error of p where arrangements were drawn.
	MonteCarloError *number `json:"monteCarloError,omitempty"`
}

// Effect is what a contrast showed on a measure. Pieces says what the pieces tell
// about these very batches where the finding counts batches; also is a second test of
// the same question. With withSetAside the readings set aside are put back.
type Effect struct {
	Outcome
	Primary      bool         `json:"primary"`
	Exploratory  bool         `json:"exploratory"`
	Single       bool         `json:"single"` // one factor differs, the measure itself left aside
	Confounded   bool         `json:"confounded"`
	Family       int          `json:"family"` // contrasts adjusted together; 0: not among them
	WithSetAside WithSetAside `json:"withSetAside"`
	Pieces       *Outcome     `json:"pieces,omitempty"`
	Also         *Outcome     `json:"also,omitempty"`
	Detectable   *Detectable  `json:"detectable,omitempty"`
	Needed       *Needed      `json:"needed,omitempty"`
	Words        string       `json:"words"`
	Method       string       `json:"method"` // the section of the methods page
}

// WithSetAside is the outcome with the readings set aside put back. Where there are
// none it is the same. Changes says that the answer is another one.
type WithSetAside struct {
	Readings int `json:"readings"` // how many were put back
	Outcome
	Changes bool `json:"changes"`
}

// Detectable is the smallest difference that had an 80 % chance to show; null where
// none could have.
type Detectable struct {
	Difference *number `json:"difference"`
}

// Needed is how many units a side the difference seen would have needed; more: more
// than that.
type Needed struct {
	N    int  `json:"n"`
	More bool `json:"more"`
}

// Panel is what the samples together came to before the same assessors.
type Panel struct {
	Measure         string   `json:"measure"`
	Samples         []string `json:"samples"`
	Unit            string   `json:"unit"`
	Assessors       int      `json:"assessors"`
	LeftOut         int      `json:"leftOut"`
	Answer          string   `json:"answer"`
	Test            string   `json:"test,omitempty"`
	RankSums        []number `json:"rankSums"`
	Statistic       *number  `json:"statistic"`
	DF              int      `json:"df,omitempty"`
	KendallW        *number  `json:"kendallW"`
	P               *number  `json:"p"`
	MonteCarloError *number  `json:"monteCarloError,omitempty"`
	Critical        *int     `json:"critical"` // difference of two rank sums, all pairs together
	Words           string   `json:"words"`
	Method          string   `json:"method"`
}

// Discrimination is what a discrimination test or a preference showed. Right counts
// right answers, or those who prefer the sample. Low and high are the ends of the
// interval of pd, the share of discriminators.
type Discrimination struct {
	Measure    string      `json:"measure"`
	Kind       string      `json:"kind"`
	Sample     string      `json:"sample"`
	Against    string      `json:"against"`
	Unit       string      `json:"unit"`
	N          int         `json:"n"`
	Right      int         `json:"right"`
	Sets       int         `json:"sets"`
	Assessors  int         `json:"assessors"`
	Repeated   bool        `json:"repeated"`
	Answer     string      `json:"answer"`
	Test       string      `json:"test"`
	P          *number     `json:"p"`
	Critical   *int        `json:"critical"` // answers needed at 5 %
	PD         *number     `json:"pd"`
	Low        *number     `json:"low"`
	High       *number     `json:"high"`
	DPrime     *number     `json:"dPrime"`
	Detectable *Detectable `json:"detectable,omitempty"`
	Confounded bool        `json:"confounded"`
	Words      string      `json:"words"`
	Method     string      `json:"method"`
}

// Support is what the findings say to the verdict: carried, in part, not carried.
type Support struct {
	Degree   string           `json:"degree"`
	Words    string           `json:"words"`
	Measures []MeasureSupport `json:"measures"`
}

// MeasureSupport is what the findings of one measure say to it.
type MeasureSupport struct {
	Measure string `json:"measure"`
	Degree  string `json:"degree"`
	Words   string `json:"words"`
}

func outcomeOf(o findings.Outcome) Outcome {
	out := Outcome{
		Answer:     string(o.Kind),
		Difference: known(o.Difference, o.HasDifference),
		P:          known(o.P, o.HasP),
		PAdjusted:  known(o.PAdjusted, o.HasP),
		Test:       string(o.Test),
		Unit:       string(o.Unit),
		Paired:     o.Paired,
		N:          o.Of.Units,
		NAgainst:   o.Against.Units,
	}
	out.Low, out.High = known(o.Interval.Low, o.HasInterval), known(o.Interval.High, o.HasInterval)
	if o.Sampled {
		out.MonteCarloError = ref(o.MonteCarloError)
	}
	return out
}

func known(x float64, has bool) *number {
	if !has {
		return nil
	}
	return ref(x)
}

func effects(c findings.Contrast) map[string]Effect {
	all := make(map[string]Effect, len(c.Measures))
	for _, e := range c.Measures {
		all[e.Measure.Name] = effectOf(e)
	}
	return all
}

func effectOf(e findings.Effect) Effect {
	out := Effect{
		Outcome:      outcomeOf(e.Outcome),
		Primary:      e.Primary,
		Exploratory:  e.Exploratory,
		Single:       len(e.Factors) == 1,
		Confounded:   e.Confounded,
		Family:       e.Family,
		WithSetAside: WithSetAside{Readings: e.Of.Aside + e.Against.Aside, Outcome: outcomeOf(e.Outcome), Changes: e.Changes},
		Pieces:       also(e.Pieces),
		Also:         also(e.Also),
		Detectable:   detectableOf(e.Detectable),
		Words:        e.Words,
		Method:       e.Method,
	}
	if e.PutBack != nil {
		out.WithSetAside.Outcome = outcomeOf(*e.PutBack)
	}
	if e.Needed != nil {
		out.Needed = &Needed{N: e.Needed.N, More: e.Needed.More}
	}
	return out
}

func also(o *findings.Outcome) *Outcome {
	if o == nil {
		return nil
	}
	out := outcomeOf(*o)
	return &out
}

func detectableOf(d *findings.Detectable) *Detectable {
	if d == nil {
		return nil
	}
	return &Detectable{Difference: known(d.Difference, !d.Never)}
}

func panels(f *findings.Findings) []Panel {
	all := []Panel{}
	for _, p := range f.Panels {
		out := Panel{
			Measure: p.Measure.Name, Samples: []string{}, Unit: string(findings.OfAssessor),
			Assessors: p.Assessors, LeftOut: p.LeftOut, Answer: string(p.Kind), Test: string(p.Test),
			RankSums: []number{}, Statistic: known(p.Statistic, p.HasP), DF: p.DF,
			KendallW: known(p.W, p.HasP && p.HasW), P: known(p.P, p.HasP),
			Words: p.Words, Method: p.Method,
		}
		for _, s := range p.Samples {
			out.Samples = append(out.Samples, s.Key)
		}
		for _, sum := range p.RankSums {
			out.RankSums = append(out.RankSums, number(sum))
		}
		if p.Sampled {
			out.MonteCarloError = ref(p.MonteCarloError)
		}
		if p.HasCritical {
			out.Critical = &p.Critical
		}
		all = append(all, out)
	}
	return all
}

func discriminations(f *findings.Findings) []Discrimination {
	all := []Discrimination{}
	for _, d := range f.Discriminations {
		out := Discrimination{
			Measure: d.Measure.Name, Kind: string(d.Measure.Kind), Sample: d.Of.Key, Against: d.Against.Key,
			Unit: string(d.Unit), N: d.N, Right: d.Right, Sets: d.Sets, Assessors: d.Assessors, Repeated: d.Repeated,
			Answer: string(d.Kind), Test: string(d.Test), P: known(d.P, d.HasP),
			PD: known(d.PD, d.HasPD), DPrime: known(d.DPrime, d.HasDPrime),
			Detectable: detectableOf(d.Detectable), Confounded: d.Confounded,
			Words: d.Words, Method: d.Method,
		}
		out.Low, out.High = known(d.Interval.Low, d.HasInterval), known(d.Interval.High, d.HasInterval)
		if d.HasCritical {
			out.Critical = &d.Critical
		}
		all = append(all, out)
	}
	return all
}

// supportOf is nil where there is no verdict to support.
func supportOf(f *findings.Findings) *Support {
	if f.Support.Degree == findings.Unstated {
		return nil
	}
	s := &Support{Degree: string(f.Support.Degree), Words: f.Support.Words}
	for _, m := range f.Support.Measures {
		s.Measures = append(s.Measures, MeasureSupport{Measure: m.Measure, Degree: string(m.Degree), Words: m.Words})
	}
	return s
}

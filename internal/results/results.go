// Package results writes results.json: everything that was computed about a
// trial, under names that stay, so that nobody has to read it off a page.
//
// Ratios are 0 to 1, masses g, volumes mL, temperatures °C, times s, lengths mm.
// Nothing is rounded but to ten significant digits, so that every processor
// writes the same file. What is not known is null or absent, never 0.
package results

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"

	"sidebatch.example/sidebatch/internal/findings"
)

// Results is the whole file.
type Results struct {
	Trial              string            `json:"trial"`
	Title              string            `json:"title"`
	Question           string            `json:"question"`
	Cooked             string            `json:"cooked,omitempty"`
	Published          string            `json:"published,omitempty"`
	Recipe             Recipe            `json:"recipe"`
	Balance            []Balance         `json:"balance"`
	Nutrition          Nutrition         `json:"nutrition"`
	BySample           []SampleNutrition `json:"nutritionBySample"`
	Samples            []Sample          `json:"samples"`
	Contrasts          []Contrast        `json:"contrasts"`
	Panels             []Panel           `json:"panels"`
	Discriminations    []Discrimination  `json:"discriminations"`
	Replications       *Replications     `json:"replications,omitempty"` // by viewers
	BoilingPoint       number            `json:"boilingPoint"`
	Altitude           number            `json:"altitudeMeters"`
	Verdict            *Verdict          `json:"verdict,omitempty"`
	Support            *Support          `json:"support,omitempty"`
	Allergens          []Allergen        `json:"allergens"`
	AllergensTakenAway []Allergen        `json:"allergensTakenAway"` // by the note, on the word of a label
	AllergenNotice     string            `json:"allergenNotice"`
	Cautions           []Caution         `json:"cautions"`
	Deference          string            `json:"deference"` // to labels, local codes and licensed practice
}

// Sample is one sample with its outcome table.
type Sample struct {
	Sample   string             `json:"sample"`
	Name     string             `json:"name"`
	Letter   string             `json:"letter"`
	Control  bool               `json:"control"`
	Pieces   int                `json:"pieces"`
	Batches  int                `json:"batches"`
	Measures map[string]Measure `json:"measures"`
}

// Measure is what a sample's readings come to. Low and high are the ends of the
// 95 % interval: of the share, or of the mean.
type Measure struct {
	Kind     string  `json:"kind"`
	Unit     string  `json:"unit,omitempty"`
	N        int     `json:"n"`
	SetAside int     `json:"setAside"`
	Missing  int     `json:"missing"`
	Count    *int    `json:"count,omitempty"`
	Rate     *number `json:"rate,omitempty"`
	Mean     *number `json:"mean,omitempty"`
	SD       *number `json:"sd,omitempty"`
	Median   *number `json:"median,omitempty"`
	Min      *number `json:"min,omitempty"`
	Max      *number `json:"max,omitempty"`
	Low      *number `json:"low,omitempty"`
	High     *number `json:"high,omitempty"`
}

// Contrast is one sample held against another: what differs, by plan and
// otherwise, and whether it is exactly one factor.
type Contrast struct {
	Sample    string            `json:"sample"`
	Against   string            `json:"against"`
	Factors   []string          `json:"factors"`
	Unplanned []string          `json:"unplanned"`
	Single    bool              `json:"single"`
	OneDough  bool              `json:"oneDough"`
	Measures  map[string]Effect `json:"measures"`
}

// Verdict is what the people decided.
type Verdict struct {
	Prefer    string   `json:"prefer,omitempty"`
	BecauseOf []string `json:"becauseOf"`
	Words     string   `json:"words,omitempty"`
}

// Caution is something that can hurt a cook, with who says so.
type Caution struct {
	Code   string `json:"code"`
	About  string `json:"about"`
	Words  string `json:"words"`
	Source string `json:"source"`
}

// Of gathers the results of a trial.
func Of(f *findings.Findings) Results {
	t := f.Trial
	r := Results{
		Trial:              t.Slug,
		Title:              t.Title,
		Question:           t.Question,
		Cooked:             t.Cooked.String(),
		Published:          t.Published.String(),
		Recipe:             recipeOf(t),
		Balance:            balances(f),
		Nutrition:          nutritionOf(t, t.Recipe),
		BySample:           nutritionBySample(f),
		Samples:            samples(f),
		Contrasts:          contrasts(f),
		Panels:             panels(f),
		Discriminations:    discriminations(f),
		Replications:       replications(f),
		Support:            supportOf(f),
		BoilingPoint:       number(f.Boiling.Celsius),
		Altitude:           number(f.Boiling.Altitude),
		Allergens:          allergens(f.Allergens.Found),
		AllergensTakenAway: allergens(f.Allergens.TakenAway),
		AllergenNotice:     findings.AllergenNotice(t.Kitchen.Words),
		Cautions:           cautions(f.Cautions),
		Deference:          findings.Deference(f.Trial.Kitchen.Words),
	}
	if v := t.Verdict; v.Prefer != nil || v.InWords != "" {
		r.Verdict = &Verdict{BecauseOf: list(v.BecauseOf), Words: v.InWords}
		if v.Prefer != nil {
			r.Verdict.Prefer = v.Prefer.Key
		}
	}
	return r
}

// JSON returns the file's bytes, indented, with a line feed at the end.
func (r Results) JSON() ([]byte, error) {
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetIndent("", "  ")
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(r); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func samples(f *findings.Findings) []Sample {
	all := make([]Sample, 0, len(f.Samples))
	for _, s := range f.Samples {
		sample := Sample{
			Sample:   s.Key,
			Name:     s.Name,
			Letter:   s.Letter,
			Control:  s.Control,
			Pieces:   s.Pieces,
			Batches:  s.Batches,
			Measures: make(map[string]Measure, len(s.Measures)),
		}
		for _, m := range s.Measures {
			sample.Measures[m.Measure.Name] = measureOf(&s, m)
		}
		all = append(all, sample)
	}
	return all
}

// measureOf is what a sample's readings come to. Over several batches it has no interval:
// one that counts pieces as independent would claim too much.
func measureOf(sample *findings.Sample, s findings.Summary) Measure {
	m := Measure{
		Kind:     string(s.Measure.Kind),
		Unit:     unit(s),
		N:        s.N,
		SetAside: s.SetAside,
		Missing:  s.Missing,
	}
	if share := s.Share; share != nil {
		m.Count = &share.Count
		m.Rate = ref(share.Rate)
		if sample.ByPiece(s.Measure) {
			m.Low, m.High = ref(share.Low), ref(share.High)
		}
	}
	if n := s.Numbers; n != nil {
		m.Mean, m.Median, m.Min, m.Max = ref(n.Mean), ref(n.Median), ref(n.Min), ref(n.Max)
		if n.HasSD {
			m.SD = ref(n.SD)
		}
		if n.HasInterval && sample.ByPiece(s.Measure) {
			m.Low, m.High = ref(n.Interval.Low), ref(n.Interval.High)
		}
	}
	return m
}

// unit is the symbol of the base unit that a measure's numbers are in.
func unit(s findings.Summary) string {
	if s.Numbers == nil || s.Measure.In.Symbol() == "" {
		return ""
	}
	return s.Measure.In.Dimension().Base().Symbol()
}

func contrasts(f *findings.Findings) []Contrast {
	all := make([]Contrast, 0, len(f.Contrasts))
	for _, c := range f.Contrasts {
		contrast := Contrast{
			Sample:    c.Of.Key,
			Against:   c.Against.Key,
			Factors:   []string{},
			Unplanned: []string{},
			Single:    c.Single(),
			OneDough:  c.Within,
			Measures:  effects(c),
		}
		for _, d := range c.Planned {
			contrast.Factors = append(contrast.Factors, d.Factor.Name)
		}
		for _, d := range c.Unplanned {
			contrast.Unplanned = append(contrast.Unplanned, d.Factor.Name)
		}
		all = append(all, contrast)
	}
	return all
}

// list makes an empty list [] instead of null.
func list(words []string) []string {
	if words == nil {
		return []string{}
	}
	return words
}

// number prints with ten significant digits at most, without an exponent.
type number float64

func ref(x float64) *number {
	n := number(x)
	return &n
}

// MarshalJSON writes the number, or null for what is no number.
func (n number) MarshalJSON() ([]byte, error) {
	return n.append(nil)
}

// append adds what MarshalJSON writes to what is there.
func (n number) append(to []byte) ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return append(to, "null"...), nil
	}
	var room [32]byte
	rounded, err := strconv.ParseFloat(string(strconv.AppendFloat(room[:0], x, 'e', 9, 64)), 64)
	if err != nil {
		return nil, err
	}
	return strconv.AppendFloat(to, rounded, 'f', -1, 64), nil
}

package kitchen

import (
	"errors"
	"net/url"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// highest and lowest are the altitudes, in metres, between which people cook.
const (
	lowest  = -500
	highest = 6000
)

// The most of each that a kitchen can have.
const (
	mostPeople = 1000
	mostSizes  = 20
	mostSpoons = 50 // and cups
)

// Read reads a kitchen file. What is wrong goes to problems, and the default
// stands in its place, so that reading goes on.
func Read(file string, src []byte, problems *problem.List) Kitchen {
	k := Default()
	if strings.TrimSpace(string(src)) == "" {
		return k
	}
	doc := yamldoc.Parse(file, 1, src, problems)
	if doc == nil || doc.Kind() == yamldoc.Empty {
		return k // a file of comments only is as good as an empty one
	}
	m := doc.Map(problems)
	if m == nil {
		return k
	}
	r := reader{problems: problems}
	// Which spoons and cups a bare "cup" means decides how the rest is read.
	r.volumes = readVolumes(m.Get("volumes"), problems)

	r.text(m.Get("name"), &k.Name)
	r.text(m.Get("about"), &k.About)
	k.People = r.people(m.Get("people"))
	k.Address = r.address(m.Get("address"))
	r.text(m.Get("language"), &k.Language)
	k.Units = r.units(m.Get("units"), k.Units)
	k.Sizes = r.sizes(m.Get("sizes"), k.Sizes)
	k.Altitude = r.altitude(m.Get("altitude"))
	k.Instruments, k.Accuracy = r.instruments(m.Get("instruments"))
	if word, ok := oneOf(m.Get("allergens"), problems, "us", "eu", "both"); ok {
		k.Allergens = Allergens(word)
	}
	r.text(m.Get("theme"), &k.Theme)
	k.Licence = r.licence(m.Get("licence"))
	if f := m.Get("invented"); f != nil {
		k.Invented, _ = f.Bool(problems)
	}
	m.Done()
	return k.Speaking(k.Words) // the instruments are new
}

type reader struct {
	problems *problem.List
	volumes  quantity.Volumes
}

func (r reader) tooMany(at problem.Pos, most int, what string) {
	r.problems.Errorf(at, problem.TooMany, "more than %d %s, and a kitchen has no more", most, what)
}

func (r reader) text(f *yamldoc.Field, into *string) {
	if text, ok := f.Text(r.problems); ok {
		*into = text
	}
}

func oneOf(f *yamldoc.Field, problems *problem.List, words ...string) (string, bool) {
	if f == nil {
		return "", false
	}
	return f.OneOf(problems, words...)
}

func readVolumes(f *yamldoc.Field, problems *problem.List) quantity.Volumes {
	word, _ := oneOf(f, problems, "us", "metric", "imperial")
	switch word {
	case "metric":
		return quantity.Metric
	case "imperial":
		return quantity.Imperial
	}
	return quantity.USCustomary
}

func (r reader) people(f *yamldoc.Field) []Person {
	var people []Person
	for i, e := range f.Entries(r.problems) {
		if i == mostPeople {
			r.tooMany(e.KeyPos, mostPeople, "people")
			break
		}
		name, ok := e.Value.Text(r.problems)
		if !ok {
			name = e.Key
		}
		people = append(people, Person{Key: e.Key, Name: name})
	}
	return people
}

func (r reader) address(f *yamldoc.Field) string {
	text, ok := f.Text(r.problems)
	if !ok {
		return ""
	}
	u, err := url.Parse(text)
	if err != nil || (u.Scheme != "https" && u.Scheme != "http") || u.Host == "" || u.RawQuery != "" || u.Fragment != "" {
		r.problems.Hinted(f.Pos(), problem.BadAddress, "write it like https://kitchen.example/",
			"%q is not the address of a site", text)
		return ""
	}
	return strings.TrimSuffix(u.String(), "/") + "/"
}

// licence reads {name: CC BY 4.0, address: "https://…"}.
func (r reader) licence(f *yamldoc.Field) Licence {
	var l Licence
	if f == nil {
		return l
	}
	m := f.Map(r.problems)
	if m == nil {
		return l
	}
	name := m.Get("name")
	if name == nil {
		r.problems.Hinted(f.Pos(), problem.MissingKey, "write it like {name: CC BY 4.0, address: \"https://…\"}", "the licence has no name")
	}
	r.text(name, &l.Name)
	if address := m.Get("address"); address != nil {
		text, ok := address.Text(r.problems)
		u, err := url.Parse(text)
		switch {
		case !ok:
		case err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "":
			r.problems.Hinted(address.Pos(), problem.BadAddress, "write the address of the licence's text", "%q is not an address", text)
		default:
			l.Address = u.String()
		}
	}
	m.Done()
	return l
}

func (r reader) units(f *yamldoc.Field, otherwise []quantity.System) []quantity.System {
	if f == nil {
		return otherwise
	}
	var systems []quantity.System
	for _, item := range f.Items(r.problems) {
		word, ok := item.OneOf(r.problems, "metric", "us", "imperial")
		if !ok {
			continue
		}
		system := map[string]quantity.System{
			"metric":   quantity.MetricSystem,
			"us":       quantity.USSystem,
			"imperial": quantity.ImperialSystem,
		}[word]
		if !slices.Contains(systems, system) {
			systems = append(systems, system)
		}
	}
	if len(systems) == 0 {
		return otherwise
	}
	return systems
}

// sizes reads the batch sizes. Half and full are always among them.
func (r reader) sizes(f *yamldoc.Field, otherwise []Size) []Size {
	if f == nil {
		return otherwise
	}
	sizes := []Size{{quantity.Ratio(1, 2)}, {quantity.Int(1)}}
	for i, item := range f.Items(r.problems) {
		if i == mostSizes {
			r.tooMany(item.Pos(), mostSizes, "batch sizes")
			break
		}
		text, ok := item.Text(r.problems)
		if !ok {
			continue
		}
		of, err := quantity.ParseNumber(text)
		if err != nil || of.Sign() <= 0 || of.Cmp(quantity.Int(100)) > 0 {
			r.problems.Hinted(item.Pos(), problem.BadAmount, "a size is a share of the full batch, like 1/2 or 2",
				"%q is not a batch size", text)
			continue
		}
		if !slices.ContainsFunc(sizes, func(s Size) bool { return s.Of.Equal(of) }) {
			sizes = append(sizes, Size{of})
		}
	}
	slices.SortFunc(sizes, func(a, b Size) int { return a.Of.Cmp(b.Of) })
	return sizes
}

func (r reader) altitude(f *yamldoc.Field) float64 {
	text, ok := f.Text(r.problems)
	if !ok {
		return 0
	}
	amount, err := quantity.Parse(text, r.volumes)
	if err != nil || amount.Dimension() != quantity.Length || amount.IsRange() {
		r.problems.Hinted(f.Pos(), problem.BadAmount, "write it like 120 m or 400 ft", "%q is not an altitude", text)
		return 0
	}
	millimetres, _ := amount.Base()
	metres := millimetres.Float64() / 1000
	if metres < lowest || metres > highest {
		r.problems.Errorf(f.Pos(), problem.OutOfRange, "nobody cooks at %s", text)
		return 0
	}
	return metres
}

func (r reader) instruments(f *yamldoc.Field) (quantity.Instruments, quantity.Amount) {
	in := quantity.Instruments{Volumes: r.volumes}
	var accuracy quantity.Amount
	if f == nil {
		return in.WithDefaults(), accuracy
	}
	m := f.Map(r.problems)
	if m == nil {
		return in.WithDefaults(), accuracy
	}
	in.Scale = r.step(m.Get("scale"), quantity.Mass)
	in.Spoons = r.measures(m.Get("spoons"))
	in.Cups = r.measures(m.Get("cups"))
	in.Timer = r.step(m.Get("timer"), quantity.Time)
	if t := m.Get("thermometer"); t != nil {
		if tm := t.Map(r.problems); tm != nil {
			in.Thermometer = r.step(tm.Get("reads"), quantity.TemperatureDifference)
			accuracy = r.step(tm.Get("accurate to"), quantity.TemperatureDifference)
			tm.Done()
		}
	}
	m.Done()
	return in.WithDefaults(), accuracy
}

func (r reader) measures(f *yamldoc.Field) []quantity.Amount {
	var measures []quantity.Amount
	if f == nil {
		return nil
	}
	for i, item := range f.Items(r.problems) {
		if i == mostSpoons {
			r.tooMany(item.Pos(), mostSpoons, "measures of a kind")
			break
		}
		if a := r.step(item, quantity.Volume); !a.IsZero() {
			measures = append(measures, a)
		}
	}
	return measures
}

// step reads the size of an instrument's step: an amount above 0 of a dimension.
func (r reader) step(f *yamldoc.Field, of quantity.Dimension) quantity.Amount {
	text, ok := f.Text(r.problems)
	if !ok {
		return quantity.Amount{}
	}
	parse := func() (quantity.Amount, error) { return quantity.Parse(text, r.volumes) }
	if of == quantity.Time {
		parse = func() (quantity.Amount, error) { return quantity.ParseTime(text) }
	}
	amount, err := parse()
	if err != nil {
		r.badAmount(f, err)
		return quantity.Amount{}
	}
	// A thermometer "reads 1 °C": the step is a difference, not a temperature.
	if of == quantity.TemperatureDifference && amount.Dimension() == quantity.Temperature {
		amount, _ = amount.AsDifference()
	}
	if amount.Dimension() != of {
		r.problems.Errorf(f.Pos(), problem.WrongUnit, "%q is not a %s", text, of)
		return quantity.Amount{}
	}
	if amount.IsRange() || amount.Low().Sign() <= 0 {
		r.problems.Errorf(f.Pos(), problem.OutOfRange, "%q is no step an instrument can have", text)
		return quantity.Amount{}
	}
	return amount
}

func (r reader) badAmount(f *yamldoc.Field, err error) {
	var syntax *quantity.SyntaxError
	if !errors.As(err, &syntax) {
		r.problems.Errorf(f.Pos(), problem.BadAmount, "%v", err)
		return
	}
	code := problem.BadAmount
	if syntax.Word != "" {
		code = problem.UnknownUnit
	}
	r.problems.Hinted(f.PosAt(syntax.Offset), code, syntax.Hint, "%s", syntax.What)
}

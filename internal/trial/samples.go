package trial

import (
	"strconv"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/recipe"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// changes is what a sample's entry says, before the sample it starts from is known.
type changes struct {
	like, takenFrom *yamldoc.Field
	change          []yamldoc.Entry
	omit, used      *yamldoc.Field
	state           int // of resolve: 0 waiting, 1 under way, 2 done
}

// samples reads the samples, then resolves what each one starts from.
func (r *reader) samples(f *yamldoc.Field) {
	t := r.trial
	for _, e := range r.entries(f, mostSamples, "samples") {
		if s := r.sample(e); s != nil {
			t.Samples = append(t.Samples, s)
		}
	}
	r.sampleNames()
	for _, s := range t.Samples {
		r.resolve(s)
	}
	for _, s := range t.Samples {
		s.Used = r.used(s, s.change.used, "")
		s.change = nil
	}
	r.roleLists()
}

// sampleNames reports samples that a reader, or an address, could not tell apart.
func (r *reader) sampleNames() {
	shown, address := map[string]string{}, map[string]string{}
	for _, s := range r.trial.Samples {
		if other, taken := shown[s.Name]; taken {
			r.problems.Errorf(s.namePlace, problem.DoubledName, "%q is shown as %q already", other, s.Name)
		} else {
			shown[s.Name] = s.Key
		}
		if other, taken := address[AddressName(s.Key)]; taken {
			r.problems.Hinted(s.Place, problem.DoubledName, "in an address a hyphen stands for a space",
				"%q and %q cannot be told apart in an address", other, s.Key)
		} else {
			address[AddressName(s.Key)] = s.Key
		}
	}
}

// AddressName is a name as addresses compare it: small letters, with a hyphen, an
// underscore or a comma as good as a space.
func AddressName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r == '-' || r == '_' || r == ',' {
			return ' '
		}
		return r
	}, strings.ToLower(name))
	return strings.Join(strings.Fields(name), " ")
}

func (r *reader) sample(e yamldoc.Entry) *Sample {
	m := e.Value.Map(r.problems)
	if m == nil {
		return nil
	}
	s := &Sample{Key: e.Key, Name: e.Key, Place: e.KeyPos, namePlace: e.KeyPos, change: &changes{}}
	if f := m.Get("name"); f != nil {
		s.Name, s.namePlace = r.name(f, e.Key), f.Pos()
	}
	if f := m.Get("control"); f != nil {
		s.Control, _ = f.Bool(r.problems)
	}
	s.change.like = m.Get("like")
	s.change.takenFrom = m.Get("taken from")
	s.change.change = r.entries(m.Get("change"), mostIngredients, "changes")
	s.change.omit = m.Get("omit")
	s.change.used = m.Get("used")
	s.Weighed.Divided = r.whole(m.Get("divided into"))
	s.Weighed.Each = r.mass(m.Get("each"))
	dough := m.Get("dough")
	s.Weighed.Dough, s.DoughPlace = r.mass(dough), dough.Pos()
	m.Done()
	if s.change.like != nil && s.change.takenFrom != nil {
		r.problems.Hinted(s.change.takenFrom.Pos(), problem.Design, "like is a dough of its own, taken from is that very dough",
			"a sample cannot be both like another and taken from one")
		s.change.takenFrom = nil
	}
	return s
}

// whole reads a number of things, 1 to 10,000.
func (r *reader) whole(f *yamldoc.Field) int {
	text, ok := f.Text(r.problems)
	if !ok {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > 10_000 {
		r.problems.Hinted(f.Pos(), problem.BadAmount, "write a whole number, like 6", "%q is not a number of pieces", text)
		return 0
	}
	return n
}

func (r *reader) mass(f *yamldoc.Field) quantity.Amount {
	text, ok := f.Text(r.problems)
	if !ok {
		return quantity.Amount{}
	}
	amount, err := quantity.Parse(text, r.kitchen.Instruments.Volumes)
	if err != nil {
		r.badAmount(f, err)
		return quantity.Amount{}
	}
	if amount.Dimension() != quantity.Mass || amount.Low().Sign() <= 0 {
		r.problems.Hinted(f.Pos(), problem.WrongUnit, "write it like 83 g", "%q is not a mass", text)
		return quantity.Amount{}
	}
	return amount
}

// resolve gives a sample its plan: the recipe's, or that of the sample it starts
// from, with its own changes. A circle is reported once and cut.
func (r *reader) resolve(s *Sample) {
	if s.change.state == 2 {
		return
	}
	s.change.state = 1
	s.Like = r.start(s, s.change.like)
	s.TakenFrom = r.start(s, s.change.takenFrom)
	s.Plan, s.Conditions = r.trial.Recipe, r.trial.Conditions
	for _, base := range []*Sample{s.Like, s.TakenFrom} {
		if base != nil {
			s.Plan, s.Conditions = base.Plan, base.Conditions
		}
	}
	for _, e := range s.change.change {
		r.apply(s, e)
	}
	r.omit(s)
	s.change.state = 2
}

// start finds the sample that another starts from, resolved.
func (r *reader) start(s *Sample, f *yamldoc.Field) *Sample {
	base := r.sampleNamed(f)
	if base == nil {
		return nil
	}
	if base == s || base.change.state == 1 {
		r.problems.Errorf(f.Pos(), problem.Circle, "%s starts from itself", s.Key)
		return nil
	}
	r.resolve(base)
	return base
}

// sampleNamed reads a reference to a sample.
func (r *reader) sampleNamed(f *yamldoc.Field) *Sample {
	key, ok := f.Text(r.problems)
	if !ok {
		return nil
	}
	s := r.trial.Sample(key)
	if s == nil {
		r.problems.Hinted(f.Pos(), problem.UnknownName, problem.DidYouMean(key, r.trial.sampleKeys()),
			"no sample is called %q", key)
	}
	return s
}

func (t *Trial) sampleKeys() []string {
	keys := make([]string, 0, len(t.Samples))
	for _, s := range t.Samples {
		keys = append(keys, s.Key)
	}
	return keys
}

// apply changes a condition, an ingredient or a group of them.
func (r *reader) apply(s *Sample, e yamldoc.Entry) {
	for i, c := range s.Conditions {
		if c.Name != e.Key {
			continue
		}
		if value, ok := r.short(e.Value); ok {
			s.Conditions = append([]Condition(nil), s.Conditions...)
			s.Conditions[i] = Condition{Name: c.Name, Value: value, Place: e.Value.Pos()}
		}
		return
	}
	if s.TakenFrom != nil {
		r.problems.Hinted(e.KeyPos, problem.Design, "use like for a dough of its own",
			"%s is taken from the dough of %s, so only conditions may change", s.Key, s.TakenFrom.Key)
		return
	}
	if e.Value.Kind() == yamldoc.Mapping {
		for _, member := range e.Value.Entries(r.problems) {
			member.Key = e.Key + "/" + member.Key
			r.applyRole(s, member)
		}
		return
	}
	r.applyRole(s, e)
}

// applyRole changes an ingredient, or adds one with a new role.
func (r *reader) applyRole(s *Sample, e yamldoc.Entry) {
	if old, ok := s.Plan.Ingredient(e.Key); ok {
		if i, ok := r.ingredient(e.Key, e.Value, &old); ok {
			s.Plan = s.Plan.With(i)
		}
		return
	}
	text, ok := e.Value.Text(r.problems)
	if !ok {
		return
	}
	known := r.factorNames(s)
	if r.isFull(s.Plan, e.KeyPos) {
		return
	}
	near := problem.Nearest(e.Key, known)
	amount, rest, err := quantity.ParseLeading(text, r.kitchen.Instruments.Volumes)
	if err != nil || rest == "" || amount.Dimension() == quantity.Temperature || amount.Dimension() == quantity.Time {
		hint := problem.DidYouMean(e.Key, known)
		if hint == "" {
			hint = "a new condition stands under conditions too; a new ingredient is written like 1 tbsp sesame oil"
		}
		r.problems.Hinted(e.KeyPos, problem.UnknownName, hint, "no role or condition is called %q", e.Key)
		return
	}
	if near != "" {
		r.problems.Ask(e.KeyPos, problem.NewRole, "did you mean "+near+"?", "is %q a new role?", e.Key)
	}
	if i, ok := r.ingredient(e.Key, e.Value, nil); ok {
		s.Plan = s.Plan.With(i)
	}
}

// factorNames are the names that a change may use.
func (r *reader) factorNames(s *Sample) []string {
	var names []string
	for _, i := range s.Plan.Ingredients {
		names = append(names, i.Role)
	}
	for _, c := range s.Conditions {
		names = append(names, c.Name)
	}
	return names
}

func (r *reader) omit(s *Sample) {
	if s.change.omit == nil {
		return
	}
	for _, item := range r.items(s.change.omit, mostIngredients, "ingredients") {
		role, ok := item.Text(r.problems)
		if !ok {
			continue
		}
		if s.TakenFrom != nil {
			r.problems.Hinted(item.Pos(), problem.Design, "use like for a dough of its own",
				"%s is taken from the dough of %s: nothing can be left out of it", s.Key, s.TakenFrom.Key)
			continue
		}
		fewer := s.Plan.Without(role)
		if len(fewer.Ingredients) == len(s.Plan.Ingredients) {
			r.problems.Hinted(item.Pos(), problem.UnknownName, problem.DidYouMean(role, roles(s.Plan)),
				"no role is called %q", role)
			continue
		}
		s.Plan = fewer
	}
}

func roles(p recipe.Recipe) []string {
	names := make([]string, 0, len(p.Ingredients))
	for _, i := range p.Ingredients {
		names = append(names, i.Role)
	}
	return names
}

// used reads what really went in, by role; a group is a map of its roles.
func (r *reader) used(s *Sample, f *yamldoc.Field, group string) []Used {
	var used []Used
	for _, e := range r.entries(f, mostIngredients, "ingredients") {
		role := group + e.Key
		if e.Value.Kind() == yamldoc.Mapping && group == "" {
			used = append(used, r.used(s, e.Value, role+"/")...)
			continue
		}
		text, ok := e.Value.Text(r.problems)
		if !ok {
			continue
		}
		if _, known := s.Plan.Ingredient(role); !known {
			r.problems.Hinted(e.KeyPos, problem.UnknownName, problem.DidYouMean(role, roles(s.Plan)),
				"no role is called %q", role)
			continue
		}
		amount, err := quantity.Parse(text, r.kitchen.Instruments.Volumes)
		if err != nil {
			r.badAmount(e.Value, err)
			continue
		}
		switch amount.Dimension() {
		case quantity.Mass, quantity.Volume, quantity.Count:
		default:
			r.problems.Errorf(e.Value.Pos(), problem.WrongUnit, "%q is no amount of an ingredient", text)
			continue
		}
		used = append(used, Used{Role: role, Amount: amount, Place: e.Value.Pos()})
	}
	return used
}

// roleLists checks the names under flours and beside, now that the roles of every
// sample are known.
func (r *reader) roleLists() {
	t := r.trial
	known := map[string]bool{}
	var names []string
	add := func(name string) {
		if name != "" && !known[name] {
			known[name] = true
			names = append(names, name)
		}
	}
	plans := []recipe.Recipe{t.Recipe}
	for _, s := range t.Samples {
		plans = append(plans, s.Plan)
	}
	for _, plan := range plans {
		for _, i := range plan.Ingredients {
			add(i.Role)
			add(i.Group())
		}
	}
	for _, list := range t.roleLists {
		if list == nil || list.Kind() != yamldoc.List {
			continue
		}
		for _, item := range list.Items(nil) {
			if role, ok := item.Text(nil); ok && !known[strings.TrimSpace(role)] {
				r.problems.Hinted(item.Pos(), problem.UnknownName, problem.DidYouMean(role, names),
					"no role is called %q", role)
			}
		}
	}
	for _, e := range t.foodPlaces {
		if !known[e.Key] {
			r.problems.Hinted(e.KeyPos, problem.UnknownName, problem.DidYouMean(e.Key, names), "no role is called %q", e.Key)
		}
	}
	t.roleLists, t.foodPlaces = nil, nil
}

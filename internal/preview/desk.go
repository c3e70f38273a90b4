package preview

import (
	"context"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// desk keeps the kitchen up to date. One goroutine loads; any may ask for what is
// there now.
type desk struct {
	options    Options
	kept       *site.Kept
	themeMoved func(folder string) error
	look       site.Look // the last one that could be read

	mutex   sync.Mutex
	current *state
	next    chan struct{} // closed when current is no longer
}

// state is the kitchen as it is shown, from one save to the next. It does not
// change.
type state struct {
	site.Reading
	version   int64
	siteIn    int64            // the version in which the pages of no single trial changed last
	changed   map[string]int64 // the version in which a trial changed last, also one that is gone
	outputs   map[string]site.Output
	outline   site.Outline
	made      *made
	look      site.Look
	slips     map[string][]page.Slip // what is wrong, by trial; under "" with kitchen and theme
	errors    int
	questions int
	notes     []page.Link // notes in progress, and those that could never be shown
	titles    map[string]string
}

func newDesk(o Options) *desk {
	return &desk{options: o, kept: site.Keep(o.Content), next: make(chan struct{}), themeMoved: func(string) error { return nil }}
}

// now is the state to be shown.
func (d *desk) now() *state {
	s, _ := d.nowAndNext()
	return s
}

// nowAndNext returns also what is closed when there is a newer state.
func (d *desk) nowAndNext() (*state, <-chan struct{}) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	return d.current, d.next
}

// follow loads whenever something settled, until the context ends.
func (d *desk) follow(ctx context.Context, settled <-chan touch) {
	for {
		select {
		case <-ctx.Done():
			return
		case t := <-settled:
			d.followOne(ctx, t)
		}
	}
}

// followOne loads once, and once more where files look half saved.
func (d *desk) followOne(ctx context.Context, t touch) {
	if t.theme {
		d.kept.ThemeMoved()
	}
	reading := d.kept.Load(t.names())
	if half := d.halfSaved(reading); len(half) > 0 {
		select {
		case <-ctx.Done():
			return
		case <-time.After(graceTime):
		}
		first := reading
		reading = d.kept.Load(half)
		reading.Whole = reading.Whole || first.Whole
		reading.Changed = slices.Concat(reading.Changed, first.Changed)
		slices.Sort(reading.Changed)
		reading.Changed = slices.Compact(reading.Changed)
	}
	d.show(reading, t.theme)
}

// load reads the kitchen and shows it.
func (d *desk) load(t touch) { d.show(d.kept.Load(t.names()), t.theme) }

// halfSaved lists the trials that could be shown before and now have a note or a
// log that is empty or gone, as happens between the two steps of a save.
func (d *desk) halfSaved(r site.Reading) []string {
	before := d.now()
	return slices.DeleteFunc(slices.Clone(r.Changed), func(slug string) bool {
		if before == nil || slug == "" || !slices.Contains(before.Slugs, slug) {
			return true
		}
		if !slices.Contains(r.Slugs, slug) {
			return false
		}
		return !slices.ContainsFunc(r.Problems[slug], func(p problem.Problem) bool {
			return slices.Contains([]problem.Code{problem.EmptyFile, problem.Unreadable, problem.MissingFile, problem.NoFrontMatter}, p.Code)
		})
	})
}

// show makes a state of a reading, unless nothing changed. After the save of a few
// trials, their own pages are shown at once, and those that go over all trials
// when they are worked out.
func (d *desk) show(r site.Reading, theme bool) {
	before := d.now()
	switch {
	case before != nil && r.Same() && !theme:
		return
	case before == nil || r.Whole || theme:
		d.showWhole(r, before)
		return
	}
	s := d.after(before, r)
	if len(r.Changed) <= few {
		s.outputs = maps.Clone(before.outputs)
		for _, slug := range r.Changed {
			s.plan(slug)
		}
		d.put(s)
		s = d.after(s, r)
	}
	s.planAll()
	if !s.outline.Agrees(before.outline) {
		s.changeAll()
	}
	d.put(s)
}

// few is how many trials are shown at once, before all others are gone over.
const few = 8

// after is the state that follows another one: what changed is in it, but nothing
// is planned yet.
func (d *desk) after(before *state, r site.Reading) *state {
	s := &state{
		Reading: r,
		version: max(time.Now().UnixMilli(), before.version+1),
		siteIn:  before.siteIn,
		look:    before.look,
		slips:   maps.Clone(before.slips),
		changed: maps.Clone(before.changed),
		outline: before.outline,
		made:    before.made.next(),
	}
	for _, slug := range r.Changed {
		if before.version != s.changed[slug] || !before.shows(r) {
			s.changed[slug] = s.version
		}
	}
	d.list(s, r.Changed)
	s.name()
	return s
}

// shows reports whether a state is of this reading.
func (s *state) shows(r site.Reading) bool { return s.Site == r.Site }

// showWhole shows a kitchen that was never shown, or all of which may have changed.
func (d *desk) showWhole(r site.Reading, before *state) {
	s := &state{
		Reading: r,
		version: time.Now().UnixMilli(),
		slips:   map[string][]page.Slip{},
		changed: map[string]int64{},
		made:    newMade(),
	}
	if before != nil {
		s.version = max(s.version, before.version+1)
		s.changed = maps.Clone(before.changed)
		s.made = before.made.next()
	}
	d.dress(s)
	d.list(s, slices.Concat(r.Slugs, []string{""}))
	s.name()
	s.planAll()
	s.changeAll()
	d.put(s)
}

// put makes a state the current one.
func (d *desk) put(s *state) {
	d.mutex.Lock()
	defer d.mutex.Unlock()
	d.current = s
	close(d.next)
	d.next = make(chan struct{})
}

// dress asks for the theme. One that is broken leaves the last good one in use, or
// the built-in one, and is reported with the kitchen's problems.
func (d *desk) dress(s *state) {
	theme := d.options.Theme(s.Site)
	if err := d.themeMoved(theme.Folder); err != nil && theme.Err == nil {
		theme.Err = err
	}
	if theme.Err == nil {
		d.look = theme.Look
	} else if d.look.Pages == nil {
		if pages, err := page.New(nil); err == nil {
			d.look = site.Look{Pages: pages}
		}
	}
	d.look.InProgress = true
	s.look = d.look
	if theme.Err != nil {
		s.slips[themeSlips] = []page.Slip{themeSlip(theme)}
	}
}

// themeSlips is where a broken theme stands among the slips; no trial's folder can
// be called so.
const themeSlips = "/theme"

// themePlace is how a broken template says where it is.
var themePlace = regexp.MustCompile(`^theme: ([^:\s]+):(\d+)(?::(\d+))?: (.*)$`)

func themeSlip(t Theme) page.Slip {
	slip := page.Slip{Place: t.Shown, What: t.Err.Error()}
	if m := themePlace.FindStringSubmatch(t.Err.Error()); m != nil && t.FS != nil {
		line, _ := strconv.Atoi(m[2]) // digits; 0 where there are too many
		at := problem.Pos{File: m[1], Line: line}
		slip.Place, slip.What = t.Shown+"/"+at.String(), m[4]
		slip.Lines = excerpt(t.FS, at.File, at)
	}
	return slip
}

// list brings the slips of some trials up to date, and counts all.
func (d *desk) list(s *state, slugs []string) {
	for _, slug := range slugs {
		delete(s.slips, slug)
		for _, p := range s.Problems[slug] {
			s.slips[slug] = append(s.slips[slug], d.slip(p))
		}
	}
	for _, slips := range s.slips {
		for _, slip := range slips {
			if slip.Question {
				s.questions++
			} else {
				s.errors++
			}
		}
	}
}

func (d *desk) slip(p problem.Problem) page.Slip {
	file := strings.TrimPrefix(strings.TrimPrefix(p.Pos.File, d.options.Content.Shown), "/")
	return page.Slip{
		Place:    p.Pos.String(),
		What:     p.What,
		Hint:     p.Hint,
		Question: p.Weight == problem.Question,
		Lines:    excerpt(d.options.Content.FS, file, p.Pos),
	}
}

// planAll lists what can be asked for.
func (s *state) planAll() {
	s.siteIn = s.version
	s.outputs = map[string]site.Output{}
	if s.look.Pages == nil {
		return
	}
	all, outline := site.PlanOutline(s.Site, s.look)
	s.outline = outline
	for _, o := range all {
		s.outputs[o.Path] = o
	}
}

// plan lists the files of one trial anew.
func (s *state) plan(slug string) {
	if slug == "" {
		return
	}
	maps.DeleteFunc(s.outputs, func(path string, _ site.Output) bool { return strings.HasPrefix(path, slug+"/") })
	for _, o := range s.outline.Trial(s.Site, slug) {
		s.outputs[o.Path] = o
	}
}

// changeAll marks every page as changed.
func (s *state) changeAll() {
	for _, slug := range s.Slugs {
		s.changed[slug] = s.version
	}
	for slug := range s.changed {
		s.changed[slug] = s.version // also of trials that are gone
	}
}

// name looks up what trials are called, and which are in progress.
func (s *state) name() {
	s.titles = map[string]string{}
	for _, e := range slices.Concat(s.Site.Trials, s.Site.InProgress) {
		s.titles[e.Trial.Slug] = e.Trial.Title
	}
	for _, e := range s.Site.InProgress {
		s.notes = append(s.notes, page.Link{Text: s.title(e.Trial.Slug), Href: "/" + e.Trial.Slug + "/"})
	}
	for _, slug := range s.Slugs {
		if _, shown := s.titles[slug]; !shown {
			s.notes = append(s.notes, page.Link{Text: slug, Href: "/" + slug + "/"})
		}
	}
	slices.SortFunc(s.notes, func(a, b page.Link) int { return strings.Compare(a.Href, b.Href) })
}

// title is what a trial is called, or its folder's name.
func (s *state) title(slug string) string {
	if title := s.titles[slug]; title != "" {
		return title
	}
	return slug
}

// start is the path of the trial saved last.
func (s *state) start() string {
	if s.Saved == "" {
		return "/"
	}
	return "/" + s.Saved + "/"
}

// changedIn is the version in which a page changed last. Pages that belong to no
// trial may show something of each.
func (s *state) changedIn(path string) int64 {
	slug, _, _ := strings.Cut(strings.TrimPrefix(path, "/"), "/")
	if version, known := s.changed[slug]; known && slug != "" {
		return version
	}
	return s.siteIn
}

// hasError reports whether a trial, or under "" the kitchen or its theme, cannot be
// shown as it is.
func (s *state) hasError(slug string) bool {
	slips := s.slips[slug]
	if slug == "" {
		slips = slices.Concat(slips, s.slips[themeSlips])
	}
	return slices.ContainsFunc(slips, func(slip page.Slip) bool { return !slip.Question })
}

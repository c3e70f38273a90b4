package site

import (
	"fmt"
	"slices"
	"strings"
)

// planner lists the outputs of a site.
type planner struct {
	*binding
	*Index
	overview
	outputs  []Output
	archived map[string]string // the day of the newest trial of each page of the archive below the first
}

// Plan lists every file of a site that was surveyed with a theme, by their paths. What the
// files hold depends on nothing but the notes and the theme.
func (x *Index) Plan() []Output {
	outputs := planned(x).outputs
	slices.SortFunc(outputs, func(a, b Output) int { return strings.Compare(a.Path, b.Path) })
	return outputs
}

func planned(x *Index) *planner {
	p := &planner{binding: x.binding, Index: x, overview: x.overview(), archived: map[string]string{}}
	p.anyTrial = len(x.Trials) > 0
	for _, o := range p.assets {
		o.From = p.from("asset", o.Path)
		p.outputs = append(p.outputs, o)
	}
	p.addFrom("index.html", p.fromHome(), p.home)
	p.addArchive()
	p.many()
	p.addFrom(methodsPage+"index.html", p.from("methods"), p.methods)
	p.addFrom("404.html", p.fromNotFound(), p.notFound)
	p.trials(x.Trials)
	p.standards()
	if p.look.InProgress {
		p.trials(x.InProgress)
	}
	return p
}

// addFrom adds a file that is made of no more than what the digest stands for.
func (p *planner) addFrom(at string, from Digest, make func() ([]byte, error)) {
	o := p.output(at, make)
	o.From = from
	p.outputs = append(p.outputs, o)
}

// trials adds the files of trials, one after the other.
func (p *planner) trials(cards []*Card) {
	all := make([]surrounded, len(cards))
	each(len(cards), func(i int) {
		c := cards[i]
		all[i] = surrounded{planner: p, card: c, around: p.around(c)}
		all[i].from = p.fromTrial(c, all[i].around)
	})
	files := 0
	for _, c := range cards {
		files += 1 + strings.Count(c.Files, "\n")
	}
	p.outputs = slices.Grow(p.outputs, files)
	for i := range all {
		t := &all[i]
		if t.card.held != nil {
			p.outputs = append(p.outputs, p.filesOf(t.card.held, t.around)...)
			continue
		}
		for _, path := range t.card.files() {
			p.outputs = append(p.outputs, Output{Path: path, From: t.from, Make: func() ([]byte, error) { return t.make(path) }})
		}
	}
}

// surrounded is a trial with what is around it. There may be very many files of trials, so
// that of each no more is kept than its path, and which trial it is of.
type surrounded struct {
	planner *planner
	card    *Card
	around  around
	from    Digest
}

// make makes one of the trial's files. The trial is opened when the first of them is made.
func (t *surrounded) make(path string) ([]byte, error) {
	at, err := t.planner.opened.get(t.card)
	if err != nil {
		return nil, err
	}
	o, ok := at.file(path, func(e *Entry) []Output { return t.planner.filesOf(e, t.around) })
	if !ok {
		return nil, fmt.Errorf("the trial has no such file (publish again)")
	}
	return o.Make()
}

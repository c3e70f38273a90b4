package site

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// planner lists the outputs of a site.
type planner struct {
	*binding
	*Index
	overview
	outputs  []Output          // of the site
	own      []ownFiles        // of each trial
	archived map[string]string // the day of the newest trial of each page of the archive below the first
}

// ownFiles are the outputs of one trial, all below its folder.
type ownFiles struct {
	card    *Card
	outputs []Output
}

// Plan lists every file of a site that was surveyed with a theme, by their paths. What the
// files hold depends on nothing but the notes and the theme.
func (x *Index) Plan() []Output {
	p := planned(x)
	// The sitemap is made later, of both in the order in which they were planned.
	rest := slices.SortedFunc(slices.Values(p.outputs), byPath)
	own := slices.SortedFunc(slices.Values(p.own), func(a, b ownFiles) int { return cmp.Compare(a.card.folder(), b.card.folder()) })
	files := len(rest)
	for i := range p.own {
		files += len(p.own[i].outputs)
		p.own[i].outputs = nil // they would be held as long as one of them is made
	}
	all := make([]Output, 0, files)
	for _, of := range own {
		// No file of the site lies in the folder of a trial.
		before, _ := slices.BinarySearchFunc(rest, of.card.folder(), func(o Output, folder string) int { return strings.Compare(o.Path, folder) })
		all = append(append(all, rest[:before]...), of.outputs...)
		rest = rest[before:]
	}
	return append(all, rest...)
}

func byPath(a, b Output) int { return strings.Compare(a.Path, b.Path) }

// paths are those of the outputs, in their order.
func (f ownFiles) paths() []string {
	if f.outputs == nil {
		return f.card.files()
	}
	var paths []string
	for _, o := range f.outputs {
		paths = append(paths, o.Path)
	}
	slices.Sort(paths)
	return paths
}

// all are the outputs in the order in which they were planned, those of the site first.
func (p *planner) all() []Output {
	all := slices.Clone(p.outputs)
	for _, of := range p.own {
		all = append(all, of.outputs...)
	}
	return all
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
	p.addFrom(notFoundPage, p.fromNotFound(), p.notFound)
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
	own := make([]ownFiles, len(cards))
	each(len(cards), func(i int) { own[i] = ownFiles{cards[i], p.ownFiles(cards[i])} })
	p.own = append(p.own, own...)
}

// ownFiles lists the files of a trial. There may be very many of all trials, so that of each
// no more is kept than its path, and which trial it is of.
func (p *planner) ownFiles(c *Card) []Output {
	if c.held != nil {
		return p.filesOf(c.held, p.around(c))
	}
	pages := p.fromTrial(c, p.around(c))
	paths := c.files()
	files := make([]Output, len(paths))
	for i, path := range paths {
		files[i] = Output{Path: path, From: p.fromOwn(c, path, pages), Make: func() ([]byte, error) { return p.makeOwn(c, path) }}
	}
	return files
}

// makeOwn makes one of a trial's files. The trial is opened when the first of them is made.
func (p *planner) makeOwn(c *Card, path string) ([]byte, error) {
	at, err := p.opened.get(c)
	if err != nil {
		return nil, err
	}
	o, ok := at.file(path, func(e *Entry) []Output { return p.filesOf(e, p.around(c)) })
	if !ok {
		return nil, fmt.Errorf("the trial has no such file (publish again)")
	}
	return o.Make()
}

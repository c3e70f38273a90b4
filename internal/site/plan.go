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
	outputs   []Output          // of the site
	own       []*Card           // the trials with files of their own
	addresses string            // stands for the pages of factors and foods
	gathered  bool              // what trials say of some factor was put together for planning, and is kept
	archived  map[string]string // the day of the newest trial of each page of the archive below the first
}

// Plan lists all that a site is made of which was surveyed with a theme, in the order of
// places: each file of the site by itself, and those of each trial together. What the files
// hold depends on nothing but the notes and the theme.
func (x *Index) Plan() []Lot {
	p := planned(x)
	own := make([]Lot, len(p.own))
	each(len(own), func(i int) { own[i] = p.lot(p.own[i]) })
	lots := slices.Concat(Lots(p.outputs), own)
	slices.SortFunc(lots, func(a, b Lot) int { return strings.Compare(a.At, b.At) })
	return lots
}

// lot is the files of a trial, all that lies below its folder.
func (p *planner) lot(c *Card) Lot {
	return Lot{At: c.folder(), From: p.fromLot(c), List: func() []Output { return p.ownFiles(c) }}
}

// all are the outputs in the order in which they were planned, those of the site first.
func (p *planner) all() []Output {
	all := slices.Clone(p.outputs)
	for _, c := range p.own {
		all = append(all, p.ownFiles(c)...)
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
	p.addresses = p.fromAddresses()
	p.addFrom("index.html", p.fromHome(), p.home)
	p.addArchive()
	p.many()
	p.addFrom(methodsPage+"index.html", p.from("methods"), p.methods)
	p.addFrom(notFoundPage, p.fromNotFound(), p.notFound)
	p.own = x.Trials
	p.standards()
	if p.look.InProgress {
		p.own = slices.Concat(x.Trials, x.InProgress)
	}
	return p
}

// addFrom adds a file that is made of no more than what the digest stands for.
func (p *planner) addFrom(at string, from Digest, make func() ([]byte, error)) {
	o := p.output(at, make)
	o.From = from
	p.outputs = append(p.outputs, o)
}

// ownFiles lists the files of a trial, in the order of their paths. It opens no trial: of
// very many, only those are opened of which something is to be made.
func (p *planner) ownFiles(c *Card) []Output {
	if c.held != nil {
		return slices.SortedFunc(slices.Values(p.filesOf(c.held, p.around(c))), byPath)
	}
	pages := p.fromTrial(c, p.around(c))
	var files []Output
	for name := range c.files() {
		path := c.folder() + name
		files = append(files, Output{Path: path, From: p.fromOwn(c, name, pages), Make: func() ([]byte, error) { return p.makeOwn(c, path) }})
	}
	return files
}

func byPath(a, b Output) int { return strings.Compare(a.Path, b.Path) }

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

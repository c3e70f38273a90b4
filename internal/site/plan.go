package site

import (
	"fmt"
)

// planner lists the outputs of a site.
type planner struct {
	*binding
	*Index
	overview
	outputs  []Output
	archived map[string]string // the day of the newest trial of each page of the archive below the first
}

// Plan lists every file of a site that was surveyed with a theme. The list has one order,
// and what the files hold depends on nothing but the notes and the theme.
func (x *Index) Plan() []Output { return planned(x).outputs }

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
	for _, c := range x.Trials {
		p.trial(c)
	}
	p.standards()
	if p.look.InProgress {
		for _, c := range x.InProgress {
			p.trial(c)
		}
	}
	return p
}

// addFrom adds a file that is made of no more than what the digest stands for.
func (p *planner) addFrom(at string, from Digest, make func() ([]byte, error)) {
	o := p.output(at, make)
	o.From = from
	p.outputs = append(p.outputs, o)
}

// trial adds the files of one trial. One that is not in memory is opened when the first of
// them is made.
func (p *planner) trial(c *Card) {
	a := p.around(c)
	if c.held != nil {
		p.outputs = append(p.outputs, p.filesOf(c.held, a)...)
		return
	}
	from := p.fromTrial(c, a)
	for _, path := range c.files() {
		p.outputs = append(p.outputs, Output{Path: path, From: from, Make: func() ([]byte, error) {
			at, err := p.opened.get(c)
			if err != nil {
				return nil, err
			}
			o, ok := at.file(path, func(e *Entry) []Output { return p.filesOf(e, a) })
			if !ok {
				return nil, fmt.Errorf("the trial has no such file (publish again)")
			}
			return o.Make()
		}})
	}
}

package site

// planner lists the outputs of a site.
type planner struct {
	*binding
	*Index
	overview
	outputs []Output
}

// Plan lists every file of the site. The list has one order, and what the files
// hold depends on nothing but the site and the theme.
func Plan(s *Site, look Look) []Output { return planned(s.index(), look).outputs }

func planned(x *Index, look Look) *planner {
	p := &planner{binding: bind(x.reader, look), Index: x, overview: x.overview()}
	p.anyTrial = len(x.Trials) > 0
	p.outputs = p.assets
	p.add("index.html", p.home)
	p.add(archivePage+"index.html", p.archive)
	p.add(archivePage+searchFile, p.searchWords)
	p.many()
	p.add(methodsPage+"index.html", p.methods)
	p.add("404.html", p.notFound)
	for _, c := range x.Trials {
		p.trial(c)
	}
	p.standards()
	if look.InProgress {
		for _, c := range x.InProgress {
			p.trial(c)
		}
	}
	return p
}

func (p *planner) add(at string, make func() ([]byte, error)) {
	p.outputs = append(p.outputs, p.output(at, make))
}

// trial adds the files of one trial.
func (p *planner) trial(c *Card) {
	p.outputs = append(p.outputs, p.filesOf(c.held, p.around(c))...)
}

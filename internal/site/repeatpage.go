package site

import (
	"fmt"

	"sidebatch.example/sidebatch/internal/bench"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
)

// repeat adds the page to repeat a trial from, with its blank logs beside it.
func (p *planner) repeat(e *Entry, at string) {
	logs := bench.BlankLogs(e.Trial, bench.Once())
	p.add(at+"index.html", func() ([]byte, error) { return p.repeatPage(e, at, logs) })
	for _, log := range logs {
		p.add(at+log.Name, func() ([]byte, error) { return log.Data, nil })
		p.add(at+log.Name+results.MetadataSuffix, func() ([]byte, error) {
			_, metadata, err := results.Table(e.Trial, trial.File{Name: log.Name, Data: log.Data})
			return metadata, err
		})
	}
}

func (p *planner) repeatPage(e *Entry, at string, logs []bench.Log) ([]byte, error) {
	t := e.Trial
	v := bench.Sheet(e.Findings, bench.Once())
	v.Frame = p.frame(at, "Repeat it: "+t.Title, fmt.Sprintf("The bench sheet and the empty log of the trial “%s”, to repeat it at home.", t.Title))
	v.Frame.Crumbs = []page.Link{{Text: t.Title, Href: "../"}}
	v.Sheets = page.Sheets{WriteUp: "../", Recipe: "../recipe/", Repeat: "./", Data: "../data/"}
	for _, log := range logs {
		what := "an empty log: one row a piece"
		if log.Name == trial.TastingFile {
			what = "an empty log of the tasting: one row an assessor and sample"
		}
		v.Downloads = append(v.Downloads, page.Download{Name: log.Name, Href: log.Name, Format: "CSV", Size: size(len(log.Data)), What: what},
			page.Download{Name: log.Name + results.MetadataSuffix, Href: log.Name + results.MetadataSuffix, Format: "JSON", What: "what its columns hold, as CSVW"})
	}
	return p.look.Pages.Repeat(v)
}

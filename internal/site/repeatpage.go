package site

import (
	"crypto/sha256"
	"encoding/hex"

	"sidebatch.example/sidebatch/internal/bench"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
)

// repeat adds the page to repeat a trial from, with its blank logs beside it.
func (p *trialFiles) repeat(e *Entry, at string) {
	logs := bench.BlankLogs(e.Trial, bench.Once())
	p.add(at+"index.html", func() ([]byte, error) { return p.repeatPage(e, at, logs) })
	p.add(at+offlineFile, func() ([]byte, error) { return p.offline(e, at, logs) })
	for _, log := range logs {
		p.add(at+log.Name, func() ([]byte, error) { return log.Data, nil })
		p.add(at+log.Name+results.MetadataSuffix, func() ([]byte, error) {
			_, metadata, err := results.Table(e.Trial, trial.File{Name: log.Name, Data: log.Data})
			return metadata, err
		})
	}
}

func (p *binding) repeatPage(e *Entry, at string, logs []bench.Log) ([]byte, error) {
	t, say := e.Trial, p.phrases()
	v := bench.Sheet(e.Findings, bench.Once())
	v.Frame = p.frame(at, say.Say("repeat title", "trial", t.Title), say.Say("repeat about", "trial", t.Title))
	v.Frame.Crumbs = []page.Link{{Text: t.Title, Href: "../"}}
	v.Sheets = page.Sheets{WriteUp: "../", Recipe: "../recipe/", Repeat: "./", Data: "../data/"}
	for _, log := range logs {
		what := say.Say("empty log")
		if log.Name == trial.TastingFile {
			what = say.Say("empty tasting log")
		}
		v.Downloads = append(v.Downloads, page.Download{Name: log.Name, Href: log.Name, Format: "CSV", Size: size(say, len(log.Data)), What: what},
			page.Download{Name: log.Name + results.MetadataSuffix, Href: log.Name + results.MetadataSuffix, Format: "JSON", What: say.Say("its columns")})
	}
	counter, err := bench.CounterOf(e.Findings, bench.Once())
	if err != nil {
		return nil, err
	}
	if v.Counter = counter; counter != nil {
		counter.Script, counter.Worker = p.counter, offlineFile
	}
	return p.look.Pages.Repeat(v)
}

// offlineFile keeps the page on the device. It lies beside the page, for a script of its
// kind sees no further than its own folder.
const offlineFile = "offline.js"

// offline is that script. It is named by what the page holds, so that a device fetches
// the page again when it is another.
func (p *binding) offline(e *Entry, at string, logs []bench.Log) ([]byte, error) {
	html, err := p.repeatPage(e, at, logs)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(html)
	root := up(at)
	files := []string{"./", root + p.styles, root + p.icon, root + p.counter}
	for _, log := range logs {
		files = append(files, log.Name)
	}
	return p.look.Pages.OfflineScript("repeat "+e.Trial.Slug+" "+hex.EncodeToString(sum[:5]), files)
}

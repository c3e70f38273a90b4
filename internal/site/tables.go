package site

import (
	"slices"
	"sync"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/wording"
)

// download is a file that a trial hands out: its note as it was read, a log as it is
// published, a log's metadata, or the results.
type download struct {
	name, what string
	make       func() ([]byte, error)
}

// downloads lists them, the results last.
func downloads(e *Entry) []download {
	var all []download
	say := phrasesFor(e.Trial)
	for _, f := range published(e.Trial) {
		if f.Name == trial.NoteFile {
			all = append(all, download{f.Name, describe(say, f.Name), func() ([]byte, error) { return f.Data, nil }})
			continue
		}
		all = append(all,
			download{f.Name, describe(say, f.Name), func() ([]byte, error) {
				data, _, err := results.Table(e.Trial, f)
				return data, err
			}},
			download{f.Name + results.MetadataSuffix, say.Say("columns of", "file", f.Name), func() ([]byte, error) {
				_, metadata, err := results.Table(e.Trial, f)
				return metadata, err
			}})
	}
	return append(all, download{resultsFile, say.Say("file results"), func() ([]byte, error) {
		return results.Of(e.Findings).JSON()
	}})
}

// ready holds the files that the data page has made to tell their size, until their turn
// comes: results are not worked out twice. What nobody takes lives as long as the entry.
type ready struct {
	one   sync.Mutex
	files map[string][]byte
}

func (r *ready) keep(name string, data []byte) {
	r.one.Lock()
	defer r.one.Unlock()
	if r.files == nil {
		r.files = map[string][]byte{}
	}
	r.files[name] = data
}

// take hands a file out once, or makes it.
func (r *ready) take(d download) ([]byte, error) {
	r.one.Lock()
	data, is := r.files[d.name]
	delete(r.files, d.name)
	r.one.Unlock()
	if is {
		return data, nil
	}
	return d.make()
}

// published are the note and its logs, then those of households that repeated the trial.
func published(t *trial.Trial) []trial.File {
	files := slices.Clone(t.Files)
	for _, r := range t.Replications {
		if len(r.File.Data) > 0 {
			files = append(files, r.File)
		}
	}
	return files
}

// shown is a download on its page, with its size.
func (e *Entry) shown(d download, say wording.Phrases) (page.Download, error) {
	data, err := d.make()
	if err != nil {
		return page.Download{}, err
	}
	e.ready.keep(d.name, data)
	return page.Download{Name: d.name, Href: d.name, Format: format(d.name), Size: size(say, len(data)), What: d.what}, nil
}

// schemas are the links to what the files of a trial promise, from its data page.
func schemas(say wording.Phrases, root string) []page.Download {
	var all []page.Download
	for _, s := range []struct{ file, what string }{
		{"results.json", say.Say("schema results")},
		{"note.json", say.Say("schema note")},
	} {
		all = append(all, page.Download{
			Name: schemasFolder + s.file, Href: root + schemasFolder + s.file, Format: "JSON Schema", What: s.what,
		})
	}
	return all
}

package site

import (
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/results"
	"sidebatch.example/sidebatch/internal/trial"
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
	for _, f := range e.Trial.Files {
		if f.Name == trial.NoteFile {
			all = append(all, download{f.Name, describe(f.Name), func() ([]byte, error) { return f.Data, nil }})
			continue
		}
		all = append(all,
			download{f.Name, describe(f.Name), func() ([]byte, error) {
				data, _, err := results.Table(e.Trial, f)
				return data, err
			}},
			download{f.Name + results.MetadataSuffix, "what the columns of " + f.Name + " hold, as CSVW", func() ([]byte, error) {
				_, metadata, err := results.Table(e.Trial, f)
				return metadata, err
			}})
	}
	return append(all, download{resultsFile, "everything computed, under stable names", func() ([]byte, error) {
		return results.Of(e.Findings).JSON()
	}})
}

// shown is a download on its page, with its size.
func (d download) shown() (page.Download, error) {
	data, err := d.make()
	if err != nil {
		return page.Download{}, err
	}
	return page.Download{Name: d.name, Href: d.name, Format: format(d.name), Size: size(len(data)), What: d.what}, nil
}

// schemas are the links to what the files of a trial promise, from its data page.
func schemas(root string) []page.Download {
	var all []page.Download
	for _, s := range []struct{ file, what string }{
		{"results.json", "what every name in results.json holds, with its unit"},
		{"note.json", "the keys of a note, for editors that complete and check them"},
	} {
		all = append(all, page.Download{
			Name: schemasFolder + s.file, Href: root + schemasFolder + s.file, Format: "JSON Schema", What: s.what,
		})
	}
	return all
}

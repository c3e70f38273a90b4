package trial

import (
	"path"
	"strings"
	"unicode"

	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// photos reads the pictures of the samples: a file each, or a file with what it shows.
func (r *reader) photos(f *yamldoc.Field) []Photo {
	var photos []Photo
	for _, e := range r.entries(f, mostSamples, "photos") {
		p := Photo{Sample: e.Key, Place: e.Value.Pos()}
		file, shows := e.Value, (*yamldoc.Field)(nil)
		if e.Value.Kind() == yamldoc.Mapping {
			m := e.Value.Map(r.problems)
			file, shows = m.Need("file"), m.Get("shows")
			p.Shows = r.text(shows)
			m.Done()
		}
		name, ok := file.Text(r.problems)
		if !ok {
			continue
		}
		if r.trial.Sample(e.Key) == nil {
			r.problems.Hinted(e.KeyPos, problem.UnknownName, problem.DidYouMean(e.Key, r.trial.sampleKeys()),
				"no sample is called %q", e.Key)
			continue
		}
		if !r.hasFile(file, name) {
			continue
		}
		p.File, p.Place = path.Clean(name), file.Pos()
		if !Describes(p.Shows, p.File) {
			at := p.Place
			if p.Shows != "" {
				at = shows.Pos()
			}
			r.problems.Ask(at, problem.NoAltText, `write {file: `+name+`, shows: "what is to be seen on it"}`,
				"who cannot see %s learns nothing from it", p.File)
		}
		photos = append(photos, p)
	}
	return photos
}

// Describes reports whether words say something about a picture: more than nothing,
// and more than the name of its file.
func Describes(words, file string) bool {
	bare := func(s string) string {
		return strings.Map(func(r rune) rune {
			if unicode.IsLetter(r) || unicode.IsDigit(r) {
				return unicode.ToLower(r)
			}
			return -1
		}, s)
	}
	base := path.Base(file)
	switch said := bare(words); said {
	case "", bare(file), bare(base), bare(strings.TrimSuffix(base, path.Ext(base))):
		return false
	}
	return true
}

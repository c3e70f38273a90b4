package page

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/wording"
)

// defaultLanguage is the language of the words when a frame names none, or one
// that the theme has no words for.
const defaultLanguage = "en"

// Renderer turns views into pages. What it makes of them never changes after New, and it may
// be used from several goroutines.
type Renderer struct {
	sets   map[string]templates // by language
	styles []byte
	prints []byte // what pages that stand alone have besides
	icon   []byte
	script []byte

	counter, offline []byte

	buffers sync.Pool // of *bytes.Buffer, to render into
}

// templates are those of one language, parsed when the first page in it is rendered: most
// kitchens speak one language, and where no page has changed none is.
type templates func() (*template.Template, error)

// New reads a theme. Each file that the theme does not have comes from the
// built-in one; a nil theme is the built-in one. Every template of another one is tried on
// a filled and on an empty view, so that a broken one is found here: the error
// names file, line and column. Those of the built-in one are tried in tests.
func New(theme fs.FS) (*Renderer, error) {
	l := over(theme)
	book, err := wording.Read(theme)
	if err != nil {
		return nil, fmt.Errorf("theme: %w", err)
	}
	r := &Renderer{sets: make(map[string]templates)}
	if r.styles, err = l.styles("styles"); err != nil {
		return nil, err
	}
	if r.prints, err = l.styles("prints"); err != nil {
		return nil, err
	}
	if r.icon, err = l.read("icon.svg"); err != nil {
		return nil, err
	}
	if r.script, err = l.read("archive.js"); err != nil {
		return nil, err
	}
	if r.counter, err = l.read("counter.js"); err != nil {
		return nil, err
	}
	if r.offline, err = l.read("offline.js"); err != nil {
		return nil, err
	}
	for _, language := range book.Names() {
		words := book.In(language).Of("page")
		r.sets[language] = sync.OnceValues(func() (*template.Template, error) {
			set, err := l.parse(words)
			if err != nil {
				return nil, err
			}
			if err := checkWords(set, words); err != nil {
				return nil, fmt.Errorf("words of %s: %w", language, err)
			}
			return set, nil
		})
	}
	if theme == nil {
		return r, nil
	}
	return r, r.try()
}

// Styles returns the style sheet that every page links to as Frame.Styles.
func (r *Renderer) Styles() []byte { return bytes.Clone(r.styles) }

// Icon returns the site's icon, an SVG image, for Frame.Icon.
func (r *Renderer) Icon() []byte { return bytes.Clone(r.icon) }

// ArchiveScript returns the script that filters the archive, for Archive.Script.
func (r *Renderer) ArchiveScript() []byte { return bytes.Clone(r.script) }

// CounterScript returns the script that takes readings on the page to repeat a trial
// from, for Counter.Script.
func (r *Renderer) CounterScript() []byte { return bytes.Clone(r.counter) }

// OfflineScript returns the script that keeps the page to repeat a trial from on the
// device: it works on the files, addresses below its own folder or above it, and under a
// name that must change when one of them does.
func (r *Renderer) OfflineScript(name string, files []string) ([]byte, error) {
	head, err := json.Marshal([]any{name, files})
	if err != nil {
		return nil, err
	}
	return slices.Concat([]byte("const [name, files] = "), head, []byte(";\n"), r.offline), nil
}

// WriteUp renders the account of one trial.
func (r *Renderer) WriteUp(v WriteUp) ([]byte, error) { return r.page("writeup.html", v.Frame, v) }

// Recipe renders the recipe alone.
func (r *Renderer) Recipe(v Recipe) ([]byte, error) { return r.page("recipe.html", v.Frame, v) }

// Data renders the page of a trial's downloads.
func (r *Renderer) Data(v Data) ([]byte, error) { return r.page("data.html", v.Frame, v) }

// Home renders the site's first page.
func (r *Renderer) Home(v Home) ([]byte, error) { return r.page("home.html", v.Frame, v) }

// Archive renders the list of all trials.
func (r *Renderer) Archive(v Archive) ([]byte, error) { return r.page("archive.html", v.Frame, v) }

// Factor renders all that was learned about one factor.
func (r *Renderer) Factor(v Factor) ([]byte, error) { return r.page("factor.html", v.Frame, v) }

// Ingredient renders the list of trials that used one food.
func (r *Renderer) Ingredient(v Ingredient) ([]byte, error) {
	return r.page("ingredient.html", v.Frame, v)
}

// Names renders a list of factors or ingredients.
func (r *Renderer) Names(v Names) ([]byte, error) { return r.page("names.html", v.Frame, v) }

// Methods renders the page on how claims are made.
func (r *Renderer) Methods(v Methods) ([]byte, error) { return r.page("methods.html", v.Frame, v) }

// NotFound renders the page for an address that leads nowhere.
func (r *Renderer) NotFound(v NotFound) ([]byte, error) { return r.page("404.html", v.Frame, v) }

// Figure renders a figure to be placed in prose.
func (r *Renderer) Figure(language string, f Figure) (template.HTML, error) {
	return r.piece("figure.html", language, f)
}

// FactorMeasure renders what was learned about a factor on one measure, for Factor.Measures.
func (r *Renderer) FactorMeasure(language string, m FactorMeasure) (template.HTML, error) {
	return r.piece("factor-measure.html", language, m)
}

// Picture renders a photo to be placed in prose.
func (r *Renderer) Picture(language string, p Picture) (template.HTML, error) {
	return r.piece("picture.html", language, p)
}

// OutcomeTable renders the outcome table to be placed in prose.
func (r *Renderer) OutcomeTable(language string, o Outcomes) (template.HTML, error) {
	return r.piece("outcomes.html", language, o)
}

// Table renders a plain table to be placed in prose; id names it on its page.
func (r *Renderer) Table(language, id string, t Table) (template.HTML, error) {
	return r.piece("table.html", language, map[string]any{"ID": id, "Table": t})
}

func (r *Renderer) page(name string, f Frame, view any) ([]byte, error) {
	if len(f.JSONLD) > 0 && !json.Valid(f.JSONLD) {
		return nil, errors.New("the JSON-LD of a page is not JSON")
	}
	set, err := r.set(f.Language)()
	if err != nil {
		return nil, err
	}
	b, _ := r.buffers.Get().(*bytes.Buffer)
	if b == nil {
		b = new(bytes.Buffer)
	}
	defer r.buffers.Put(b)
	b.Reset()
	if err := set.ExecuteTemplate(b, name, view); err != nil {
		return nil, themeError(err)
	}
	return slices.Concat(bytes.TrimSpace(b.Bytes()), []byte("\n")), nil
}

func (r *Renderer) piece(name, language string, view any) (template.HTML, error) {
	var b strings.Builder
	set, err := r.set(language)()
	if err != nil {
		return "", err
	}
	if err := set.ExecuteTemplate(&b, name, view); err != nil {
		return "", themeError(err)
	}
	return template.HTML(b.String()), nil
}

// set returns the templates in the words of a language; of "pt-BR" those of "pt"
// do where there are no nearer ones.
func (r *Renderer) set(language string) templates {
	if set := r.sets[language]; set != nil {
		return set
	}
	base, _, _ := strings.Cut(language, "-")
	if set := r.sets[base]; set != nil {
		return set
	}
	return r.sets[defaultLanguage]
}

// try executes every page of every language on an empty and on a filled view.
func (r *Renderer) try() error {
	views := map[string]any{
		"writeup.html":        WriteUp{},
		"recipe.html":         Recipe{},
		"data.html":           Data{},
		"home.html":           Home{},
		"archive.html":        Archive{},
		"factor.html":         Factor{},
		"factor-measure.html": FactorMeasure{},
		"ingredient.html":     Ingredient{},
		"names.html":          Names{},
		"methods.html":        Methods{},
		"404.html":            NotFound{},
		"picture.html":        Picture{},
		"repeat.html":         BenchSheet{},
		"bench-sheet.html":    alone[BenchSheet]{},
		"ballots.html":        alone[Ballots]{},
		"pouring-list.html":   alone[PouringList]{},
		"preview-mend.html":   Mend{},
		"preview-band.html":   Band{},
	}
	var found []error
	for _, language := range slices.Sorted(maps.Keys(r.sets)) {
		set, err := r.sets[language]()
		if err != nil {
			return err
		}
		for name, empty := range views {
			for _, view := range []any{filled(reflect.TypeOf(empty)).Interface(), empty} {
				if err := set.ExecuteTemplate(io.Discard, name, view); err != nil {
					found = append(found, themeError(err))
					break
				}
			}
		}
	}
	return firstInOrder(found)
}

// filled returns a value of a view type in which every string says something and
// every list holds one thing, so that every branch of a template is taken.
func filled(t reflect.Type) reflect.Value {
	v := reflect.New(t).Elem()
	switch t.Kind() {
	case reflect.String:
		v.SetString("x")
	case reflect.Int:
		v.SetInt(1)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Uint8:
		v.SetUint('1')
	case reflect.Pointer:
		v.Set(reflect.New(t.Elem()))
		v.Elem().Set(filled(t.Elem()))
	case reflect.Slice:
		v.Set(reflect.Append(v, filled(t.Elem())))
	case reflect.Struct:
		for i := range t.NumField() {
			v.Field(i).Set(filled(t.Field(i).Type))
		}
	}
	return v
}

package preview

import (
	"context"
	"errors"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"github.com/fsnotify/fsnotify"

	"sidebatch.example/sidebatch/internal/site"
)

// touch is what may have changed.
type touch struct {
	all   bool            // not known what: look at everything
	slugs map[string]bool // folders of the kitchen
	theme bool
}

// join adds what another touch says.
func (t *touch) join(other touch) {
	t.all = t.all || other.all
	t.theme = t.theme || other.theme
	for slug := range other.slugs {
		if t.slugs == nil {
			t.slugs = map[string]bool{}
		}
		t.slugs[slug] = true
	}
}

// names are the folders to be read again in any case; nil means: look at all.
func (t touch) names() []string {
	if t.all {
		return nil
	}
	return slices.AppendSeq([]string{}, maps.Keys(t.slugs))
}

// watch reports what is touched in the kitchen's folder and in the theme's.
type watch struct {
	content string
	touched chan touch
	polls   error // why files are looked at again and again; nil where the system tells
	system  *fsnotify.Watcher

	polling sync.Once
	mutex   sync.Mutex
	theme   string
}

// startWatch watches until the context ends. Where the system cannot tell, or not
// of so many folders, the files are looked at again and again instead.
func startWatch(ctx context.Context, folder string) *watch {
	w := &watch{content: folder, touched: make(chan touch)}
	if folder == "" {
		return w
	}
	system, err := fsnotify.NewBufferedWatcher(256)
	if err == nil {
		w.system = system
		err = w.add(folder)
	}
	if err != nil {
		w.polls = err
		w.poll(ctx)
	}
	if w.system != nil {
		go w.listen(ctx)
	}
	return w
}

// add watches a folder and all below it.
func (w *watch) add(folder string) error {
	return filepath.WalkDir(folder, func(p string, d fs.DirEntry, err error) error {
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil // it went while we looked
		case err != nil:
			return err
		case !d.IsDir():
			return nil
		case p != folder && site.EditorFile(d.Name()):
			return fs.SkipDir
		}
		if err := w.system.Add(p); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	})
}

// watchTheme watches the folder of a theme besides; "" is none.
func (w *watch) watchTheme(folder string) error {
	w.mutex.Lock()
	w.theme = folder
	w.mutex.Unlock()
	if folder == "" || w.system == nil {
		return nil
	}
	return w.add(folder)
}

func (w *watch) themeFolder() string {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	return w.theme
}

// listen passes on what the system tells.
func (w *watch) listen(ctx context.Context) {
	defer w.system.Close()
	for {
		var t touch
		select {
		case <-ctx.Done():
			return
		case e, open := <-w.system.Events:
			if !open {
				return
			}
			if e.Has(fsnotify.Create) && w.add(e.Name) != nil {
				w.poll(ctx) // one folder too many
			}
			t = w.touches(e.Name)
		case _, open := <-w.system.Errors:
			if !open {
				return
			}
			t = touch{all: true, theme: true} // events were lost
		}
		if !w.send(ctx, t) {
			return
		}
	}
}

// send hands a touch on; it reports whether to go on.
func (w *watch) send(ctx context.Context, t touch) bool {
	if !t.all && !t.theme && t.slugs == nil {
		return true
	}
	select {
	case <-ctx.Done():
		return false
	case w.touched <- t:
		return true
	}
}

// touches says what a file belongs to.
func (w *watch) touches(name string) touch {
	var t touch
	if site.EditorFile(filepath.Base(name)) {
		return t
	}
	if theme := w.themeFolder(); theme != "" {
		if rel, err := filepath.Rel(theme, name); err == nil && filepath.IsLocal(rel) {
			t.theme = true
		}
	}
	rel, err := filepath.Rel(w.content, name)
	if err != nil || !filepath.IsLocal(rel) {
		return t
	}
	slug, _, _ := strings.Cut(filepath.ToSlash(rel), "/")
	t.slugs = map[string]bool{slug: true}
	return t
}

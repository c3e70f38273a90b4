package site

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/findings"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/prose"
	"sidebatch.example/sidebatch/internal/trial"
)

// account is a note's prose as HTML. Figures, tables and photos are not drawn yet: a
// comment holds the place of each. A note cannot write such a comment itself,
// for its raw HTML is shown as text.
type account struct {
	html   string
	placed []placed
	photos []photo  // pictures that the prose shows
	links  []string // the other trials that the prose links to, as it comes to them
}

// placed is a figure or table that the prose puts somewhere.
type placed struct {
	scheme  string // "figure", "table" or "photo"
	name    string // as the trial calls it
	caption string
	picture page.Picture // of a photo
}

// comment holds the place of a figure, table or photo.
func (p placed) comment(n int) string { return fmt.Sprintf("<!-- %s %d -->", p.scheme, n) }

// places reports whether the prose places a figure or table.
func (a account) places(scheme, name string) bool {
	for _, p := range a.placed {
		if p.scheme == scheme && p.name == name {
			return true
		}
	}
	return false
}

// tell renders a trial's prose and checks everything that it cites. Links to other trials
// are held against the known ones.
func (s *reader) tell(e *Entry, known trials, problems *problem.List) {
	t := e.Trial
	doc := prose.Doc{
		File:      path.Join(s.content.Shown, t.Slug, trial.NoteFile),
		FirstLine: t.ProseLine,
		Source:    t.Prose,
	}
	r := &resolver{site: s, known: known, entry: e}
	var found problem.List
	html := prose.Render(doc, r, &found)
	if r.inside {
		// A link may lead to a heading further down: what anchors there are is known
		// only now, so the problems are those of a second reading.
		found = problem.List{}
		r = &resolver{site: s, known: known, entry: e, anchors: anchors(html)}
		html = prose.Render(doc, r, &found)
	}
	problems.Join(found)
	problems.Join(r.questions)
	e.account = account{html: html, placed: r.placed, photos: r.photos, links: r.links}
}

var anchorPattern = regexp.MustCompile(` id="([^"]+)"`)

// anchors lists the ids in a piece of HTML.
func anchors(html string) []string {
	var ids []string
	for _, match := range anchorPattern.FindAllStringSubmatch(html, -1) {
		ids = append(ids, match[1])
	}
	return ids
}

// resolver answers what the prose asks for. It implements prose.Resolver.
type resolver struct {
	site    *reader
	known   trials
	entry   *Entry
	placed  []placed
	anchors []string // the ids in the prose
	inside  bool     // asked for a heading of the prose
	photos  []photo
	links   []string // the other trials that it asked for

	questions problem.List // about what stands in the prose and is no error
}

// Figure places a figure.
func (r *resolver) Figure(name, caption string) (string, error) {
	known := r.entry.gallery().names()
	for _, k := range known {
		if sameName(name, k) {
			return r.place("figure", k, caption), nil
		}
	}
	return "", &prose.Wrong{
		Code: problem.UnknownTarget,
		What: fmt.Sprintf("there is no figure %q", name),
		Hint: nearestOr(name, known),
	}
}

// Table places a table.
func (r *resolver) Table(name, caption string) (string, error) {
	known := tableNames()
	for _, k := range known {
		if sameName(name, k) {
			return r.place("table", k, caption), nil
		}
	}
	return "", &prose.Wrong{
		Code: problem.UnknownTarget,
		What: fmt.Sprintf("there is no table %q", name),
		Hint: nearestOr(name, known),
	}
}

func (r *resolver) place(scheme, name, caption string) string {
	p := placed{scheme: scheme, name: name, caption: caption}
	r.placed = append(r.placed, p)
	return p.comment(len(r.placed) - 1)
}

// Value checks a number that the prose cites, or fills it in.
func (r *resolver) Value(path, words string) (string, error) {
	v, err := r.entry.Value(path)
	if unknown, ok := err.(*findings.UnknownValue); ok {
		return "", &prose.Wrong{Code: problem.UnknownTarget, What: unknown.What, Hint: unknown.Hint}
	}
	if err != nil {
		return "", err
	}
	if words == "" {
		return strings.ReplaceAll(v.Text, " ", "\u00a0"), nil
	}
	if !v.Agrees(words) {
		return "", &prose.Wrong{
			Code: problem.StaleNumber,
			What: fmt.Sprintf("the text says %q, the log says %q", words, v.Text),
			Hint: "correct the text, or leave the brackets empty to have the number filled in",
		}
	}
	return words, nil
}

// Address turns an address of the note into one of the page. Pictures do not come
// here: see Picture.
func (r *resolver) Address(dest string, image bool) (string, error) {
	if id, inside := strings.CutPrefix(dest, "#"); inside {
		return r.anchor(id)
	}
	if scheme, name, ok := strings.Cut(dest, ":"); ok && !image && (scheme == "figure" || scheme == "table") {
		return r.reference(scheme, name)
	}
	if isWhole(dest) {
		return dest, nil
	}
	target, fragment, _ := strings.Cut(dest, "#")
	if fragment != "" {
		fragment = "#" + fragment
	}
	clean := path.Clean(strings.TrimSuffix(target, trial.NoteFile))
	if slug, isTrial := strings.CutPrefix(clean, "../"); isTrial && !image {
		return r.trialAddress(slug, fragment)
	}
	for _, f := range r.entry.Trial.Files {
		if f.Name == clean {
			return "data/" + f.Name, nil
		}
	}
	if at := r.entry.Trial.Replication(clean); at != nil {
		return "data/" + at.File.Name, nil
	}
	return "", &prose.Wrong{
		Code: problem.BrokenLink,
		What: fmt.Sprintf("%q leads nowhere", dest),
		Hint: "link to a log of this trial, to ../ANOTHER-TRIAL/, or to a whole https:// address",
	}
}

// anchor checks a link to a heading of the note.
func (r *resolver) anchor(id string) (string, error) {
	r.inside = true
	if slices.Contains(r.anchors, id) {
		return "#" + id, nil
	}
	return "", &prose.Wrong{
		Code: problem.BrokenLink,
		What: fmt.Sprintf("no heading of the note has the anchor %q", id),
		Hint: problem.DidYouMean(id, r.anchors),
	}
}

// reference is the address of a figure or table on the page.
func (r *resolver) reference(scheme, name string) (string, error) {
	known := tableNames()
	if scheme == "figure" {
		known = r.entry.gallery().names()
	}
	for _, k := range known {
		switch {
		case !sameName(name, k):
		case scheme == "figure":
			return "#" + r.entry.gallery().figureID(k), nil
		default:
			return "#table-" + k, nil
		}
	}
	return "", &prose.Wrong{
		Code: problem.UnknownTarget,
		What: fmt.Sprintf("there is no %s %q", scheme, name),
		Hint: nearestOr(name, known),
	}
}

// isWhole reports whether an address says by itself where it leads.
func isWhole(dest string) bool {
	for _, scheme := range []string{"https:", "http:", "mailto:"} {
		if len(dest) > len(scheme) && strings.EqualFold(dest[:len(scheme)], scheme) {
			return true
		}
	}
	return false
}

// trialAddress is the address of another trial, which must be published.
func (r *resolver) trialAddress(slug, fragment string) (string, error) {
	if !slices.Contains(r.links, slug) {
		r.links = append(r.links, slug)
	}
	if r.known.has(slug) {
		return "../" + slug + "/" + fragment, nil
	}
	return "", &prose.Wrong{
		Code: problem.BrokenLink,
		What: fmt.Sprintf("no published trial is called %q", slug),
		Hint: problem.DidYouMean(slug, r.known.slugs()),
	}
}

// sameName compares a name in an address with a name of the trial.
func sameName(address, name string) bool {
	return trial.AddressName(address) == trial.AddressName(name)
}

func nearestOr(name string, known []string) string {
	if hint := problem.DidYouMean(name, known); hint != "" {
		return hint
	}
	if len(known) == 0 {
		return "the trial has none"
	}
	return "there are " + strings.Join(known, ", ")
}

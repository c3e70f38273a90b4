package draft

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
	"sidebatch.example/sidebatch/internal/yamldoc"
)

// part is a part of an earlier note, as it is written there: from its key to the
// line before the next one, with the comments that stand in it.
type part struct {
	first int // line in the note
	lines []string
}

// parts are the parts of the note's front matter by their keys.
func (e *Earlier) parts() map[string]part {
	lines := strings.Split(string(e.note()), "\n")
	end := slices.IndexFunc(lines[1:], func(line string) bool { return strings.TrimRight(line, " \t") == "---" })
	if end < 0 {
		return nil
	}
	front := lines[1 : end+1]
	doc := yamldoc.Parse("", 2, []byte(strings.Join(front, "\n")), nil)
	return cutParts(doc.Entries(nil), front, 2)
}

// cutParts cuts lines, of which the first has a number, at the keys of entries. What
// stands above a key at its own depth belongs to it.
func cutParts(entries []yamldoc.Entry, lines []string, first int) map[string]part {
	parts := map[string]part{}
	for i, e := range entries {
		from, to := e.KeyPos.Line-first, len(lines)
		if i+1 < len(entries) {
			to = entries[i+1].KeyPos.Line - first
		}
		to = max(to, from+1)
		for to > from+1 && above(lines[to-1], lines[from]) {
			to--
		}
		parts[e.Key] = part{from + first, lines[from:to]}
	}
	return parts
}

// above reports whether a line is blank, or a comment no deeper than a key.
func above(line, key string) bool {
	text := strings.TrimSpace(line)
	return text == "" || text[0] == '#' && indent(line) <= indent(key)
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

var comparesList = regexp.MustCompile(`compares:\s*\[[^\]]*\]`)

// likeMeasures writes the measures of the earlier trial as they stand there. A sensory
// test compares samples that the new trial may not have: then it compares the control
// with the first of the others.
func (d *drafter) likeMeasures(parts map[string]part) {
	p, has := parts["measures"]
	if !has {
		return
	}
	from := d.wish.Like.From
	t := d.wish.Like.Trial
	text := strings.Join(p.lines, "\n")
	for _, m := range t.Measures {
		if !m.Kind.IsDiscrimination() || d.have(m.Compares) {
			continue
		}
		if len(d.samplesOf) < 2 {
			d.wrong(from, "say what changes", "%q compares two samples", m.Name)
			return
		}
		ours := fmt.Sprintf("compares: [%s, %s]", flow(d.samplesOf[0].key), flow(d.samplesOf[1].key))
		text = d.comparing(text, m, ours)
	}
	for line := range strings.SplitSeq(text, "\n") {
		d.put(from, "%s", line)
	}
}

// comparing replaces what a test compares, in the lines of its entry.
func (d *drafter) comparing(text string, m trial.Measure, ours string) string {
	lines := strings.Split(text, "\n")
	doc := yamldoc.Parse("", 1, []byte(text), nil)
	for _, top := range doc.Entries(nil) {
		entry, has := cutParts(top.Value.Entries(nil), lines, 1)[m.Name]
		if !has {
			continue
		}
		was := strings.Join(entry.lines, "\n")
		now := comparesList.ReplaceAllLiteralString(was, ours)
		if now == was || !strings.Contains(was, key(m.Name)) {
			now = fmt.Sprintf("%s%s: {kind: %s, %s}", strings.Repeat(" ", max(2, indent(was))), key(m.Name), m.Kind, ours)
		}
		after := lines[entry.first-1+len(entry.lines):]
		return strings.Join(slices.Concat(lines[:entry.first-1], strings.Split(now, "\n"), after), "\n")
	}
	return text
}

func (d *drafter) have(keys []string) bool {
	return !slices.ContainsFunc(keys, func(k string) bool { return !slices.Contains(d.keys(), k) })
}

// copied writes a part of the earlier note as it stands there.
func (d *drafter) copied(parts map[string]part, name string) bool {
	p, has := parts[name]
	for _, line := range p.lines {
		d.put(d.wish.Like.From, "%s", line)
	}
	return has
}

// copiedKnown writes a part whose keys name foods or roles, without those that the new
// trial does not have.
func (d *drafter) copiedKnown(parts map[string]part, name string, known func(key string) bool) {
	p, has := parts[name]
	if !has {
		return
	}
	var entries []yamldoc.Entry
	for _, top := range yamldoc.Parse("", 1, []byte(strings.Join(p.lines, "\n")), nil).Entries(nil) {
		entries = top.Value.Entries(nil)
	}
	unknown := slices.ContainsFunc(entries, func(e yamldoc.Entry) bool { return !known(e.Key) })
	oneLine := slices.ContainsFunc(entries, func(e yamldoc.Entry) bool { return e.KeyPos.Line == 1 })
	kept := p.lines
	if unknown {
		kept = nil
		cut := cutParts(entries, p.lines, 1)
		for _, e := range entries {
			if !oneLine && known(e.Key) {
				kept = append(kept, cut[e.Key].lines...)
			}
		}
		if len(kept) > 0 {
			kept = slices.Insert(kept, 0, name+":")
		}
	}
	if len(kept) == 0 {
		return
	}
	d.put("", "")
	d.put("", "# As in %s: check it against the labels of what you use now.", d.wish.Like.Trial.Slug)
	for _, line := range kept {
		d.put(d.wish.Like.From, "%s", line)
	}
}

// isFood reports whether an ingredient, or a change, is of a food.
func (d *drafter) isFood(name string) bool {
	for _, i := range d.wish.Like.Trial.Recipe.Ingredients {
		if i.Food == name {
			return true
		}
	}
	for _, s := range d.samplesOf {
		if slices.ContainsFunc(s.changes, func(c pair) bool { return strings.Contains(c.value, name) }) {
			return true
		}
	}
	return false
}

// isRole reports whether the recipe, or a change, has a role.
func (d *drafter) isRole(name string) bool {
	isIt := func(p pair) bool { return p.name == name }
	return slices.ContainsFunc(d.ingredients, isIt) ||
		slices.ContainsFunc(d.samplesOf, func(s *sample) bool { return slices.ContainsFunc(s.changes, isIt) })
}

package draft

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// behind is the column at which comments stand.
const behind = 34

// put writes a line of the note, and remembers what was said that it holds.
func (d *drafter) put(from, format string, args ...any) {
	fmt.Fprintf(&d.text, format+"\n", args...)
	d.origins = append(d.origins, from)
}

// with writes a line with a comment behind it.
func (d *drafter) with(from, comment, line string) {
	if comment == "" {
		d.put(from, "%s", line)
		return
	}
	d.put(from, "%s%s# %s", line, strings.Repeat(" ", max(1, behind-1-utf8.RuneCountInString(line))), comment)
}

// write writes the note.
func (d *drafter) write() {
	w := d.wish
	d.put("", "---")
	d.put(w.Title.From, "title: %s", block(w.Title.Text))
	d.put(w.Question.From, "question: %s", block(w.Question.Text))
	d.with("", "the day; take the # away when you have cooked", "# cooked: 2026-03-08")
	d.with("", "until this stands here, publish leaves the trial out", "# published: 2026-03-15")
	d.writePeople()
	d.with("", "", "# keywords: [griddle, breakfast]")
	d.put("", "")
	if w.Like != nil {
		d.writeLike()
	} else {
		d.writeRecipe()
		d.put("", "")
		d.writeConditions(d.conditions)
	}
	d.put("", "")
	d.writeSamples()
	d.put("", "")
	d.writeMeasures()
	d.writeRest()
	d.put("", "---")
	d.writeProse()
}

func (d *drafter) writePeople() {
	if len(d.wish.By) == 0 {
		d.with("", "who cooked, by the short names of kitchen.yaml", "# by: [Ines, Bram]")
		return
	}
	d.put("", "by:")
	for _, person := range d.wish.By {
		d.put(person.From, "  - %s", block(person.Text))
	}
}

func (d *drafter) writeRecipe() {
	r := d.wish.Recipe
	d.put("", "recipe:")
	d.put(r.Name.From, "  name: %s", block(r.Name.Text))
	if r.Makes.Text == "" {
		d.with("", "what the full batch makes", "  # makes: 12 pancakes")
	} else {
		d.with(r.Makes.From, "the full batch", "  makes: "+block(r.Makes.Text))
	}
	d.with(r.AmountsFor.From, "the size that the amounts below are written for", "  amounts for: "+block(or(r.AmountsFor.Text, "full batch")))
	d.with(r.TestedAt.From, "the size that each sample is made at", "  tested at: "+block(or(r.TestedAt.Text, or(r.AmountsFor.Text, "full batch"))))
	d.with("", "role: amount, unit, food[, preparation]", "  ingredients:")
	for _, i := range d.ingredients {
		d.put(i.from, "    %s: %s", key(i.name), block(i.value))
	}
	d.writeRoles("flours", r.Flours, "these roles together are 100 % in baker's percentages", "flour")
	d.writeRoles("beside", r.Beside, "used beside the dough (pan, dusting): not in its mass", "oil")
	if len(r.Steps) == 0 {
		d.with("", "a step quotes a condition as {rest}", "  # steps:")
		d.put("", "  #   - Let it rest for {rest}, covered.")
	} else {
		d.with("", "a step quotes a condition by its name in braces", "  steps:")
	}
	for _, step := range r.Steps {
		d.put(step.From, "    - %s", block(step.Text))
	}
	d.put("", "  # times: {prepare: 20 min, wait: 30 min, cook: 25 min}")
}

func (d *drafter) writeRoles(name string, roles []Said, about, example string) {
	if len(roles) == 0 {
		d.with("", about, fmt.Sprintf("  # %s: [%s]", name, example))
		return
	}
	d.with("", about, "  "+name+":")
	for _, role := range roles {
		d.put(role.From, "    - %s", block(role.Text))
	}
}

func (d *drafter) writeConditions(conditions []pair) {
	if len(conditions) == 0 {
		d.with("", "the same in every sample that does not change them", "# conditions:")
		d.put("", "#   rest: 30 min")
		return
	}
	d.with("", "the same in every sample that does not change them", "conditions:")
	for _, c := range conditions {
		d.put(c.from, "  %s: %s", key(c.name), block(c.value))
	}
}

// writeLike takes over what makes the recipe what it is, as it is written in the
// earlier note.
func (d *drafter) writeLike() {
	parts := d.wish.Like.parts()
	d.put("", "# The recipe and what belongs to it are those of %s, as they stand in its note.", d.wish.Like.Trial.Slug)
	if d.wish.Recipe.TestedAt.Text == "" {
		d.copied(parts, "recipe")
	} else {
		d.likeTestedAt(parts)
	}
	d.put("", "")
	more := d.conditions[len(d.wish.Like.Trial.Conditions):]
	p, has := parts["conditions"]
	switch {
	case !has || len(more) > 0 && len(p.lines) == 1:
		d.writeConditions(d.conditions)
	default:
		d.copied(parts, "conditions")
		depth := "  "
		if len(p.lines) > 1 {
			depth = strings.Repeat(" ", max(1, indent(p.lines[1])))
		}
		for _, c := range more {
			d.put(c.from, "%s%s: %s", depth, key(c.name), block(c.value))
		}
	}
	d.copiedKnown(parts, "foods", d.isRole)
	d.copiedKnown(parts, "labels", d.isFood)
	d.copiedKnown(parts, "allergens", func(string) bool { return true })
}

// likeTestedAt takes over the recipe with another size of the test batch.
func (d *drafter) likeTestedAt(parts map[string]part) {
	r := d.wish.Recipe.TestedAt
	lines := parts["recipe"].lines
	if len(lines) < 2 {
		d.wrong(r.From, "change it in the note afterwards", "the recipe of %s stands in one line", d.wish.Like.Trial.Slug)
		return
	}
	depth := strings.Repeat(" ", indent(lines[1]))
	done := false
	for i, line := range lines {
		if strings.HasPrefix(line, depth+"tested at:") {
			continue
		}
		d.put(d.wish.Like.From, "%s", line)
		if !done && i == 0 {
			d.put(r.From, "%stested at: %s", depth, block(r.Text))
			done = true
		}
	}
}

func (d *drafter) writeSamples() {
	d.with("", "the control first: the others are held against it", "samples:")
	for i, s := range d.samplesOf {
		d.put(s.from, "  %s:", key(s.key))
		if s.name != s.key {
			d.put(s.from, "    name: %s", block(s.name))
		}
		if i == 0 {
			d.put("", "    control: true")
		}
		if s.like != "" {
			d.with(s.from, "a dough of its own that starts from that sample", "    like: "+block(s.like))
		}
		d.writeChanges(s, i == 0)
		d.with("", "pieces of one batch", fmt.Sprintf("    divided into: %d", d.wish.Pieces))
		if i == 0 {
			d.with("", "weighed, about", "    # each: 83 g")
			d.with("", "weighed: the whole test batch", "    # dough: 512 g")
			d.with("", "what really went in, where it was not the plan", "    # used: {salt: 1/2 tsp}")
		}
	}
	switch {
	case d.wish.Batches < 2:
	case d.wish.Apart:
		d.put("", "# The batches are made apart, each for itself.")
	default:
		d.put("", "")
		d.with("", "batch 1 of every sample in one session, and so on", "batches: side by side")
	}
}

func (d *drafter) writeChanges(s *sample, control bool) {
	if len(s.changes) > 0 {
		d.with("", "a role or a condition, and its new value", "    change:")
	} else if !control && len(s.omit) == 0 {
		d.with("", "a role or a condition, and its new value", "    # change: {rest: 60 min}")
	}
	for _, c := range s.changes {
		d.put(c.from, "      %s: %s", key(c.name), block(c.value))
	}
	if len(s.omit) > 0 {
		d.with("", "left out", "    omit:")
	}
	for _, c := range s.omit {
		d.put(c.from, "      - %s", block(c.name))
	}
}

func (d *drafter) writeMeasures() {
	if d.wish.Like != nil && len(d.wish.Measures) == 0 {
		d.likeMeasures(d.wish.Like.parts())
		return
	}
	if len(d.measuresOf) == 0 {
		return
	}
	d.with("", "what is read of each piece, or judged by each taster", "measures:")
	for _, m := range d.measuresOf {
		comment := m.about
		if m.primary {
			comment = "the one that the question turns on"
		}
		d.with(m.from, comment, "  "+m.line(d.samplesOf))
	}
}

// writeRest is what is known only afterwards.
func (d *drafter) writeRest() {
	control := d.samplesOf[0].key
	d.put("", "")
	d.put("", "# When you know: what you prefer and why. sidebatch says whether the readings carry it.")
	d.put("", "# verdict:")
	d.put("", "#   prefer: %s", control)
	d.put("", "#   because of: [a measure]")
	d.put("", "#   in words: What you will do from now on.")
	d.put("", "# photos: {%s: photos/one.jpg}", flow(control))
	d.put("", "# video: {address: \"https://video.example/one\", chapters: {\"0:00\": The question}}")
}

func (d *drafter) writeProse() {
	d.put("", "")
	d.put("", "*To be written: what you wanted to know, and how you went about it.*")
	if len(d.measuresOf) > 0 || d.wish.Like != nil {
		d.put("", "")
		d.put("", "## What happened")
		d.put("", "")
		d.put("", "![What happened](table:outcomes)")
	}
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

package results

import (
	"slices"

	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/trial"
)

// NoteSchema returns the JSON Schema (draft 2020-12) of a note's front matter, for
// editors that complete and check YAML. It knows every key, kind and unit of a note
// and what shape a value has; what a value means (that a name is a sample's, an
// amount one of a food) only audit knows. ID is as for ResultsSchema.
//
// An optional key may stand without a value, as in a note that is being written.
func NoteSchema(id string) ([]byte, error) {
	root := closed("", map[string]schema{
		"title":      filledIn("the trial's title"),
		"question":   filledIn("what the trial asks, as a question"),
		"cooked":     day("the day it was cooked, written 2026-02-14"),
		"published":  day("the day it is published; without one the note is in progress, and publish leaves it out"),
		"by":         texts("who cooked: people of kitchen.yaml, by their short names"),
		"repeats":    filledIn("the folder of the trial that this one repeats"),
		"keywords":   texts("words to find the trial by"),
		"foods":      named("rows of the food table by role, for a food whose everyday name the table does not have", scalar("the row's number, as sidebatch foods prints it")),
		"recipe":     recipeSchema(),
		"conditions": named("a process setting, and its value in words; a step quotes it as {name}", scalar("as 22 °C, 5 min, cast-iron griddle")),
		"samples":    named("the versions of the recipe that were made, by a short name", sampleSchema()),
		"measures":   named("what is observed, by the name of its column in the log", measureSchema()),
		"batches":    {"description": "batch 1 of every sample was made in one session, and so on", "type": "string", "enum": []any{"side by side"}},
		"logs": closed("how the logs are written, where a number or a day in them can be read in more ways than one", map[string]schema{
			"decimals": {"description": "the sign before decimals", "type": "string", "enum": []any{"comma", "point"}},
			"dates":    {"description": "the order of day, month and year in a thermometer's log", "type": "string", "enum": []any{"day first", "month first", "year first"}},
		}),
		"verdict": closed("what the people decided", map[string]schema{
			"prefer":     scalar("the sample that is preferred"),
			"because of": texts("the measures it rests on"),
			"in words":   scalar("the verdict in your own words"),
		}),
		"labels":    named("nutrients from a package, by the food as the ingredients call it", labelSchema()),
		"allergens": allergenSchema(),
		"photos":    named("a picture of each sample", photoSchema()),
		"video": closed("where the video stands", map[string]schema{
			"address":  {"description": "the whole address", "type": "string", "pattern": "^https?://"},
			"chapters": named(`what begins when: "1:10": The doughs`, scalar("the chapter's title")),
		}, "address"),
	}, "title", "question", "recipe", "samples")
	root["title"] = "A trial's note"
	root["description"] = "The YAML between the two --- lines of trial.md."
	return root.document(id)
}

func recipeSchema() schema {
	line := schema{"description": "amount, unit, food[, preparation]: 300 g all-purpose flour, sifted", "type": "string"}
	return closed("the recipe, as the control and most samples follow it", map[string]schema{
		"name":        filledIn("what it is called"),
		"makes":       amount("how many pieces a full batch makes, as 12 pancakes"),
		"amounts for": size("the size that the amounts below are written for; the full batch if absent"),
		"tested at":   size("the size that each sample was made at; as 'amounts for' if absent"),
		"ingredients": named("role: amount, unit, food[, preparation]; a group holds roles of its own", schema{
			"anyOf": []schema{line, named("a group of roles", line)},
		}),
		"flours": texts("the roles that together are 100 % in baker's percentages"),
		"beside": texts("the roles used beside the dough, which are not in its mass"),
		"steps":  texts("what to do; {name} stands for a condition"),
		"times": closed("the times a cook plans with", map[string]schema{
			"prepare": amount("as 20 min"),
			"wait":    amount("as 1 h 30 min"),
			"cook":    amount("as 25 min"),
		}),
	}, "name", "ingredients")
}

func sampleSchema() schema {
	return closed("one version of the recipe", map[string]schema{
		"name":         scalar("the name that pages show"),
		"control":      yesOrNo("the others are held against this one"),
		"like":         scalar("a dough of its own that starts from that sample, not from the recipe"),
		"taken from":   scalar("made of that sample's very dough: only conditions may change"),
		"change":       named("a role or condition, and its new value; a new role adds one", orGroup("as 195 g water, or 98 °C")),
		"omit":         texts("roles left out"),
		"used":         named("what really went in, at the size that was tested, where it was not the plan", orGroup("as 195 g")),
		"divided into": {"description": "how many pieces", "type": []string{"integer", "string"}, "minimum": 1, "maximum": 10000, "pattern": "^[0-9]+$"},
		"each":         amount("mass of a piece, weighed, as 83 g"),
		"dough":        amount("mass of the whole batch, weighed, as 512 g"),
	})
}

func measureSchema() schema {
	var kinds []any
	for _, k := range trial.Kinds() {
		kinds = append(kinds, string(k))
	}
	of := schema{"description": "whether pieces.csv or tasting.csv has the readings", "type": "string", "enum": []any{"piece", "tasting"}}
	return closed("something that is observed", map[string]schema{
		"kind": {"description": "what sort of thing it is", "type": "string", "enum": kinds},
		"in": {"description": "the unit of a reading without one: by itself s, °C, mm, g or mL", "type": "string",
			"examples": units()},
		"part of":        scalar("the sum that it is added into, such as cook time"),
		"asks":           scalar("what a pass means"),
		"from":           scaleEnd("the low end of a score, as 1 tender"),
		"to":             scaleEnd("the high end of a score, as 9 tough"),
		"of":             of,
		"primary":        yesOrNo("the measure that the question turns on; one at most"),
		"not controlled": yesOrNo("a thing that was observed because it could not be held the same"),
		"compares":       {"description": "of a sensory test: the two samples", "type": "array", "items": scalar(""), "minItems": 2, "maxItems": 2},
	}, "kind")
}

// units are the words for units that readings may be in, as they are usually
// written.
func units() []any {
	var all []any
	for _, word := range quantity.UnitWords() {
		unit, known := quantity.UnitNamed(word, quantity.USCustomary)
		if !known {
			continue
		}
		switch unit.Dimension() {
		case quantity.Time, quantity.Temperature, quantity.Length, quantity.Mass, quantity.Volume:
			all = append(all, word)
		}
	}
	return all
}

func labelSchema() schema {
	lines := map[string]schema{"serving": amount("the serving that the figures are for, as 14 g")}
	for _, line := range trial.LabelLines() {
		lines[line[0]] = amount("in a serving, in " + line[1] + " where no unit is given")
	}
	return closed("a package's label", lines, "serving")
}

// photoSchema is a picture's file, or a group that also says what it shows.
func photoSchema() schema {
	const file = "JPEG, PNG or WebP in the trial's folder, as photos/cool.jpg"
	described := closed("a file and what it shows", map[string]schema{
		"file":  scalar(file),
		"shows": scalar("what is to be seen on it, for those who cannot see it, as A pancake cracked along the fold"),
	}, "file")
	return schema{"anyOf": []schema{scalar(file), described}}
}

func allergenSchema() schema {
	var names []any
	for _, a := range trial.ListedAllergens() {
		names = append(names, a.Name())
	}
	list := func(words string) schema {
		s := texts(words)
		s["items"] = schema{"type": "string", "examples": names}
		return s
	}
	return closed("what is known of allergens, over what the names of ingredients point to", map[string]schema{
		"contains": list("in there, whatever the names say"),
		"free of":  list("not in there, as the labels of what was used say"),
	})
}

// closed is a group whose keys are all known. All but those needed may stand
// without a value.
func closed(words string, keys map[string]schema, needed ...string) schema {
	for key, s := range keys {
		if !slices.Contains(needed, key) {
			orNothing(s)
		}
	}
	s := schema{"type": "object", "properties": keys, "additionalProperties": false}
	if words != "" {
		s["description"] = words
	}
	if len(needed) > 0 {
		s["required"] = needed
	}
	return s
}

// orNothing lets a value be absent after its key.
func orNothing(s schema) {
	switch kind := s["type"].(type) {
	case string:
		s["type"] = []string{kind, "null"}
	case []string:
		s["type"] = append(slices.Clone(kind), "null")
	}
	if words, listed := s["enum"].([]any); listed {
		s["enum"] = append(slices.Clone(words), nil)
	}
}

// named is a group whose keys are the author's own names.
func named(words string, value schema) schema {
	return schema{"description": words, "type": "object", "additionalProperties": value}
}

// scalar is text; YAML reads some of it as numbers, or as true and false.
func scalar(words string) schema {
	s := schema{"type": []string{"string", "number", "boolean"}}
	if words != "" {
		s["description"] = words
	}
	return s
}

// filledIn is text that cannot be empty.
func filledIn(words string) schema {
	s := scalar(words)
	s["pattern"] = "."
	return s
}

func amount(words string) schema {
	return schema{"description": words, "type": []string{"string", "number"}}
}

func size(words string) schema {
	return schema{
		"description": words, "type": []string{"string", "number"}, "exclusiveMinimum": 0, "maximum": 100,
		"examples": []any{"full batch", "half batch", "third", "quarter", "double", "2/3 batch"},
	}
}

func day(words string) schema {
	return schema{"description": words, "type": "string", "pattern": `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`}
}

func texts(words string) schema {
	return schema{"description": words, "type": "array", "items": scalar("")}
}

func yesOrNo(words string) schema {
	return schema{"description": words, "type": []string{"boolean", "string"}, "enum": []any{true, false, "yes", "no"}}
}

// orGroup is a value, or a group of values by role.
func orGroup(words string) schema {
	return schema{"anyOf": []schema{scalar(words), named("a group of roles", scalar(words))}}
}

// scaleEnd is one end of a score: a number, and what it means.
func scaleEnd(words string) schema {
	return schema{"description": words, "type": []string{"integer", "string"}, "minimum": 0, "maximum": 1000, "pattern": "^[0-9]+( .*)?$"}
}

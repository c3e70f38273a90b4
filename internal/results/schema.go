package results

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
)

// dialect is the version of JSON Schema that the schemas here are written in.
const dialect = "https://json-schema.org/draft/2020-12/schema"

// schema is one JSON Schema. encoding/json writes its keywords in the order of
// their letters.
type schema map[string]any

// ResultsSchema returns the JSON Schema (draft 2020-12) of results.json, made from
// the types that are written there. ID is the address it is published at, or empty
// where the site does not know its own. Names that the schema does not know are
// allowed: later versions add some, and take none away.
func ResultsSchema(id string) ([]byte, error) {
	g := generator{defs: map[string]schema{}, words: fieldWords()}
	root := g.object(reflect.TypeFor[Results]())
	root["title"] = "Results of a side-by-side kitchen trial"
	root["description"] = "Everything that was computed about one trial. Ratios are 0 to 1, masses g, volumes mL, temperatures °C, times s, lengths mm, " +
		"if not said otherwise. What is not known is null or absent, never 0."
	root["$defs"] = g.defs
	return root.document(id)
}

// document writes a schema as a file of its own.
func (s schema) document(id string) ([]byte, error) {
	s["$schema"] = dialect
	if id != "" {
		s["$id"] = id
	}
	data, err := json.MarshalIndent(s, "", "  ")
	return append(data, '\n'), err
}

// generator makes schemas of Go types. Types with a name are written once.
type generator struct {
	defs  map[string]schema
	words map[string]fieldWord // by type and name in the file: "Measure.rate"
}

// object is the schema of a struct.
func (g generator) object(t reflect.Type) schema {
	properties := map[string]schema{}
	required := []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		if f.Anonymous && name == "" { // its fields stand among the others
			inner := g.object(f.Type)
			for name, property := range inner["properties"].(map[string]schema) {
				properties[name] = property
			}
			required = append(required, inner["required"].([]string)...)
			continue
		}
		optional := options == "omitempty"
		property := g.value(f.Type, !optional)
		g.describe(property, t.Name()+"."+name)
		properties[name] = property
		if !optional {
			required = append(required, name)
		}
	}
	slices.Sort(required)
	return schema{"type": "object", "properties": properties, "required": required}
}

// value is the schema of a field's type. A pointer that is always written may be
// null; so may any number, for what is none is written as null.
func (g generator) value(t reflect.Type, nullable bool) schema {
	if t == reflect.TypeFor[number]() {
		return schema{"type": []string{"number", "null"}}
	}
	switch t.Kind() {
	case reflect.Pointer:
		inner := g.value(t.Elem(), false)
		if kind, plain := inner["type"].(string); plain && nullable {
			inner["type"] = []string{kind, "null"}
		} else if inner["$ref"] != nil && nullable {
			return schema{"anyOf": []schema{inner, {"type": "null"}}}
		}
		return inner
	case reflect.Slice:
		return schema{"type": "array", "items": g.value(t.Elem(), false)}
	case reflect.Map:
		kind := any("object")
		if nullable && t.Elem().Kind() == reflect.Pointer {
			kind = []string{"object", "null"}
		}
		return schema{"type": kind, "additionalProperties": g.value(t.Elem(), true)}
	case reflect.Struct:
		if _, done := g.defs[t.Name()]; !done {
			g.defs[t.Name()] = nil // stops a type that holds itself
			g.defs[t.Name()] = g.object(t)
		}
		return schema{"$ref": "#/$defs/" + t.Name()}
	case reflect.Int:
		return schema{"type": "integer"}
	case reflect.Bool:
		return schema{"type": "boolean"}
	}
	return schema{"type": "string"}
}

// describe adds what is known of a field to its schema.
func (g generator) describe(property schema, name string) {
	w, known := g.words[name]
	if !known {
		return
	}
	property["description"] = w.words
	switch w.limits {
	case ratio:
		property["minimum"], property["maximum"] = 0, 1
	case atLeast0:
		property["minimum"] = 0
	case date:
		property["pattern"] = `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`
	case kinds:
		names := make([]string, 0, len(trial.Kinds()))
		for _, k := range trial.Kinds() {
			names = append(names, string(k))
		}
		property["enum"] = names
	}
}

// limits are what a value may be besides its type.
type limits int

const (
	anything limits = iota
	ratio           // 0 to 1
	atLeast0
	date  // a day, as 2026-02-14
	kinds // a kind of measure
)

// fieldWord says what a field holds, with its unit.
type fieldWord struct {
	words  string
	limits limits
}

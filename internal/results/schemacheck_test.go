package results

import (
	"encoding/json"
	"fmt"
	"math/big"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// checker holds values against a JSON Schema of draft 2020-12: the keywords that
// the schemas here use, as JSON Schema Core and Validation define them. A keyword
// it does not know is an error, so that none goes unchecked.
type checker struct {
	root   map[string]any
	strict bool // names that the schema does not know are wrong too
	wrong  []string
}

func (c *checker) fail(at, format string, args ...any) {
	c.wrong = append(c.wrong, at+": "+fmt.Sprintf(format, args...))
}

// check returns what is wrong with a value, each with its place.
func check(root map[string]any, value any, strict bool) []string {
	c := &checker{root: root, strict: strict}
	c.value(root, value, "")
	return c.wrong
}

func (c *checker) value(s map[string]any, value any, at string) {
	for keyword, argument := range s {
		switch keyword {
		case "$schema", "$id", "$defs", "title", "description", "examples", "properties", "additionalProperties":
		case "$ref":
			name := strings.TrimPrefix(argument.(string), "#/$defs/")
			c.value(c.root["$defs"].(map[string]any)[name].(map[string]any), value, at)
		case "type":
			c.kind(argument, value, at)
		case "enum":
			if !slices.ContainsFunc(argument.([]any), func(one any) bool { return reflect.DeepEqual(one, value) }) {
				c.fail(at, "%v is none of %v", value, argument)
			}
		case "anyOf":
			c.anyOf(argument.([]any), value, at)
		case "pattern":
			if text, is := value.(string); is && !regexp.MustCompile(argument.(string)).MatchString(text) {
				c.fail(at, "%q does not match %s", text, argument)
			}
		case "minimum", "maximum", "exclusiveMinimum":
			c.bound(keyword, argument.(json.Number), value, at)
		case "required":
			object, is := value.(map[string]any)
			for _, name := range argument.([]any) {
				if _, there := object[name.(string)]; is && !there {
					c.fail(at, "%s is missing", name)
				}
			}
		case "items":
			list, _ := value.([]any)
			for i, item := range list {
				c.value(argument.(map[string]any), item, fmt.Sprintf("%s/%d", at, i))
			}
		case "minItems", "maxItems":
			list, is := value.([]any)
			most, _ := argument.(json.Number).Int64()
			if is && ((keyword == "minItems" && len(list) < int(most)) || (keyword == "maxItems" && len(list) > int(most))) {
				c.fail(at, "%d items, %s %d", len(list), keyword, most)
			}
		default:
			c.fail(at, "the schema has a keyword that is not checked: %s", keyword)
		}
	}
	c.object(s, value, at)
}

// object checks the properties of an object, and those that have no schema.
func (c *checker) object(s map[string]any, value any, at string) {
	object, is := value.(map[string]any)
	properties, _ := s["properties"].(map[string]any)
	if !is || (properties == nil && s["additionalProperties"] == nil) {
		return
	}
	for name, inner := range object {
		where := at + "/" + name
		if known, there := properties[name].(map[string]any); there {
			c.value(known, inner, where)
			continue
		}
		switch rest := s["additionalProperties"].(type) {
		case map[string]any:
			c.value(rest, inner, where)
		case bool:
			if !rest {
				c.fail(where, "no such name")
			}
		case nil:
			if c.strict {
				c.fail(where, "the schema does not know the name")
			}
		}
	}
}

func (c *checker) kind(argument, value any, at string) {
	kinds, several := argument.([]any)
	if !several {
		kinds = []any{argument}
	}
	for _, kind := range kinds {
		if isKind(kind.(string), value) {
			return
		}
	}
	c.fail(at, "%v is no %v", value, argument)
}

func isKind(kind string, value any) bool {
	switch v := value.(type) {
	case nil:
		return kind == "null"
	case bool:
		return kind == "boolean"
	case string:
		return kind == "string"
	case []any:
		return kind == "array"
	case map[string]any:
		return kind == "object"
	case json.Number:
		exact, ok := new(big.Rat).SetString(v.String())
		return ok && (kind == "number" || (kind == "integer" && exact.IsInt()))
	}
	return false
}

func (c *checker) anyOf(choices []any, value any, at string) {
	var wrong []string
	for _, choice := range choices {
		one := &checker{root: c.root, strict: c.strict}
		one.value(choice.(map[string]any), value, at)
		if len(one.wrong) == 0 {
			return
		}
		wrong = append(wrong, one.wrong...)
	}
	c.fail(at, "fits none: %s", strings.Join(wrong, "; "))
}

func (c *checker) bound(keyword string, argument json.Number, value any, at string) {
	number, is := value.(json.Number)
	if !is {
		return
	}
	got, _ := new(big.Rat).SetString(number.String())
	limit, ok := new(big.Rat).SetString(argument.String())
	if !ok {
		c.fail(at, "%s is no number", argument)
		return
	}
	order := got.Cmp(limit)
	if (keyword == "minimum" && order < 0) || (keyword == "maximum" && order > 0) || (keyword == "exclusiveMinimum" && order <= 0) {
		c.fail(at, "%s, %s %s", number, keyword, argument)
	}
}

// decode reads JSON with its numbers as they are written.
func decode(t testing.TB, data []byte) map[string]any {
	t.Helper()
	decoder := json.NewDecoder(strings.NewReader(string(data)))
	decoder.UseNumber()
	var value map[string]any
	if err := decoder.Decode(&value); err != nil {
		t.Fatal(err)
	}
	return value
}

// TestChecker: each keyword finds what it is there to find, by examples from JSON
// Schema Validation, draft 2020-12, section 6.
func TestChecker(t *testing.T) {
	tests := []struct {
		name, schema, value string
		right               bool
	}{
		{"type", `{"type": "string"}`, `"a"`, true},
		{"other type", `{"type": "string"}`, `1`, false},
		{"one of the types", `{"type": ["integer", "null"]}`, `null`, true},
		{"a whole number with a zero fraction", `{"type": "integer"}`, `1.0`, true},
		{"a fraction", `{"type": "integer"}`, `1.5`, false},
		{"enum", `{"enum": ["a", 1]}`, `1`, true},
		{"not in enum", `{"enum": ["a", 1]}`, `"b"`, false},
		{"pattern, not anchored", `{"pattern": "b"}`, `"abc"`, true},
		{"pattern missed", `{"pattern": "^b"}`, `"abc"`, false},
		{"pattern of a number", `{"pattern": "^b"}`, `1`, true},
		{"minimum", `{"minimum": 0}`, `0`, true},
		{"below", `{"minimum": 0}`, `-0.1`, false},
		{"above", `{"maximum": 1}`, `1.01`, false},
		{"exclusive", `{"exclusiveMinimum": 0}`, `0`, false},
		{"required", `{"required": ["a"]}`, `{"b": 1}`, false},
		{"required of a list", `{"required": ["a"]}`, `[]`, true},
		{"properties", `{"properties": {"a": {"type": "string"}}}`, `{"a": 1}`, false},
		{"other properties", `{"properties": {"a": {}}, "additionalProperties": false}`, `{"b": 1}`, false},
		{"other properties of a kind", `{"additionalProperties": {"type": "string"}}`, `{"b": 1}`, false},
		{"items", `{"items": {"type": "string"}}`, `["a", 1]`, false},
		{"too few", `{"minItems": 2}`, `["a"]`, false},
		{"too many", `{"maxItems": 1}`, `["a", "b"]`, false},
		{"any", `{"anyOf": [{"type": "string"}, {"type": "null"}]}`, `null`, true},
		{"none", `{"anyOf": [{"type": "string"}, {"type": "null"}]}`, `1`, false},
		{"reference", `{"$ref": "#/$defs/a", "$defs": {"a": {"type": "string"}}}`, `1`, false},
		{"unknown keyword", `{"not": {}}`, `1`, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			value := decode(t, []byte(`{"value": `+tt.value+`}`))["value"]
			if wrong := check(decode(t, []byte(tt.schema)), value, false); (len(wrong) == 0) != tt.right {
				t.Errorf("%s against %s: %q", tt.value, tt.schema, wrong)
			}
		})
	}
}

// eachSchema calls a function for every schema inside a schema.
func eachSchema(value any, at string, do func(at string, s map[string]any)) {
	switch v := value.(type) {
	case map[string]any:
		do(at, v)
		for name, inner := range v {
			eachSchema(inner, at+"/"+name, do)
		}
	case []any:
		for _, inner := range v {
			eachSchema(inner, at, do)
		}
	}
}

// checkWords fails for words that no reader wants: none, or more than a screen.
func checkWords(t *testing.T, at, words string) {
	t.Helper()
	if n := utf8.RuneCountInString(words); n < 4 || n > 300 || strings.TrimSpace(words) != words {
		t.Errorf("%s: description %q", at, words)
	}
}

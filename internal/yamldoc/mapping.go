package yamldoc

import (
	"slices"
	"strings"

	"sidebatch.example/sidebatch/internal/problem"
)

// Map reads a group with known keys. Every key is asked for with Get, Has or
// Need, and then Done reports those that nobody asked for.
type Map struct {
	field    *Field
	problems *problem.List
	asked    []string // in the order of asking, each once
}

// Map begins to read a group with known keys. It is nil when the field is nil
// or of another kind, which is reported as WrongType.
func (f *Field) Map(problems *problem.List) *Map {
	if !f.is(Mapping, problems) {
		return nil
	}
	return &Map{field: f, problems: problems}
}

func (m *Map) find(key string) (Entry, bool) {
	if !slices.Contains(m.asked, key) {
		m.asked = append(m.asked, key)
	}
	for _, e := range m.field.entries {
		if e.Key == key {
			return e, true
		}
	}
	return Entry{}, false
}

// Get returns the value of a key, nil when the key is absent or nothing stands
// after it. The key counts as known from now on.
func (m *Map) Get(key string) *Field {
	if m == nil {
		return nil
	}
	e, ok := m.find(key)
	if !ok || e.Value.kind == Empty {
		return nil
	}
	return e.Value
}

// Has says whether the key is written, with or without a value. The key counts
// as known from now on.
func (m *Map) Has(key string) bool {
	if m == nil {
		return false
	}
	_, ok := m.find(key)
	return ok
}

// Need is Get for a key that must be there: an absent one is reported as
// MissingKey at the group's key, or where the group begins if it has none, one
// without a value at the key itself.
func (m *Map) Need(key string) *Field {
	if m == nil {
		return nil
	}
	e, ok := m.find(key)
	switch {
	case !ok:
		m.problems.Errorf(m.field.KeyPos(), problem.MissingKey, "%s is missing here", key)
		return nil
	case e.Value.refused:
		return e.Value
	case e.Value.kind == Empty:
		m.problems.Errorf(e.KeyPos, problem.MissingKey, "nothing stands after %s", key)
		return nil
	}
	return e.Value
}

// Done reports every key that nobody asked for as UnknownKey, with the nearest
// of the known ones. Those not yet in the group are the likelier meant.
func (m *Map) Done() {
	if m == nil {
		return
	}
	var absent []string
	for _, key := range m.asked {
		if _, there := m.find(key); !there {
			absent = append(absent, key)
		}
	}
	for _, e := range m.field.entries {
		if slices.Contains(m.asked, e.Key) {
			continue
		}
		hint := problem.DidYouMean(e.Key, absent)
		if hint == "" {
			hint = problem.DidYouMean(e.Key, m.asked)
		}
		if hint == "" && len(absent) > 0 {
			hint = "keys that may stand here: " + strings.Join(absent, ", ")
		}
		m.problems.Hinted(e.KeyPos, problem.UnknownKey, hint, "unknown key %s", e.Key)
	}
}

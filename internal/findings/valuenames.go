package findings

import (
	"fmt"
	"strings"

	"sidebatch.example/sidebatch/internal/trial"
)

// name is one name of a path: what it stands for where the path ends with it, and the
// names that may follow. The paths that resolve and the list of them are read off the
// same names, so that neither can fall behind the other.
type name struct {
	said  string
	what  string                  // what its value is, in plain words
	value func() (Value, error)   // nil: another name has to follow
	next  func() []name           // of two alike the first is meant; nil: none
	lacks func(path string) error // what to say of a path that none of them begins
}

// names are those that may follow. They are put together when a path leads there: a trial
// has hundreds.
func (n name) names() []name {
	if n.next == nil {
		return nil
	}
	return n.next()
}

// find walks down a path.
func (n name) find(path string) (Value, error) {
	for _, next := range n.names() {
		if same(path, next.said) {
			if next.value == nil {
				return Value{}, next.lacks("")
			}
			return next.value()
		}
		if rest, follows := after(path, next.said); follows {
			if next.lacks == nil {
				return Value{}, &UnknownValue{What: fmt.Sprintf("%q has no %q", next.said, rest)}
			}
			return next.find(rest)
		}
	}
	return Value{}, n.lacks(path)
}

// after is what follows a name in a path. The name of a role in a group holds a slash.
func after(path, name string) (rest string, follows bool) {
	parts := strings.Split(path, "/")
	n := 1 + strings.Count(name, "/")
	if len(parts) <= n || !same(strings.Join(parts[:n], "/"), name) {
		return "", false
	}
	return strings.Join(parts[n:], "/"), true
}

// Citable is a value that prose may cite, with its path.
type Citable struct {
	Value
	Path string // as an address has it: rested/side-1/mean
	What string // what it is, in plain words
}

// Citable lists every value that [Findings.Value] finds, in the order of the note.
func (f *Findings) Citable() []Citable {
	var all []Citable
	f.root().list("", &all)
	return all
}

func (n name) list(before string, all *[]Citable) {
	seen := map[string]bool{}
	for _, next := range n.names() {
		folded := trial.AddressName(next.said)
		if folded == "" || seen[folded] {
			continue // no path leads to it
		}
		seen[folded] = true
		path := before + strings.ReplaceAll(folded, " ", "-")
		if next.value != nil {
			if v, err := next.value(); err == nil {
				*all = append(*all, Citable{Value: v, Path: path, What: next.what})
			}
		}
		next.list(path+"/", all)
	}
}

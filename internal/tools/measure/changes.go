package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// change is a change of one file.
type change struct {
	as   subject
	file string
	edit func(text string) (string, error)
}

// changes are those that are measured, of the note in the middle and of the newest one.
func changes(of notes) []change {
	return []change{
		{oneSentence, of.middle, withSentence},
		{oneTitle, of.middle, withTitle},
		{newestTitle, of.newest, withTitle},
		{oneLevel, of.middle, withLevel},
		{oneReading, filepath.Join(filepath.Dir(of.middle), "pieces.csv"), withReading},
	}
}

// make makes the change; back takes it back.
func (c change) make() (back func() error, err error) {
	text, err := os.ReadFile(c.file)
	if err != nil {
		return nil, err
	}
	edited, err := c.edit(string(text))
	if err != nil {
		return nil, err
	}
	return func() error { return os.WriteFile(c.file, text, 0o644) }, os.WriteFile(c.file, []byte(edited), 0o644)
}

// notes are two of a kitchen's published ones.
type notes struct {
	middle string // by their folders
	newest string // by when they were published
}

// publishedOn finds the day in a note.
var publishedOn = regexp.MustCompile(`(?m)^published: ([0-9-]+)$`)

func publishedNotes(kitchen string) (notes, error) {
	all, err := filepath.Glob(filepath.Join(kitchen, "*", "trial.md"))
	if err != nil {
		return notes{}, err
	}
	var published, days []string
	for _, note := range all {
		text, err := os.ReadFile(note)
		if err != nil {
			return notes{}, err
		}
		if day := publishedOn.FindSubmatch(text); day != nil {
			published, days = append(published, note), append(days, string(day[1]))
		}
	}
	if len(published) == 0 {
		return notes{}, fmt.Errorf("%s has no published trial", kitchen)
	}
	return notes{published[len(published)/2], published[slices.Index(days, slices.Max(days))]}, nil
}

// withTitle makes the title of a note another one.
func withTitle(note string) (string, error) {
	before, after, found := strings.Cut(note, "\ntitle: ")
	if !found {
		return "", fmt.Errorf("has no title")
	}
	return before + "\ntitle: Once more, " + after, nil
}

// level is the first number of a change, as notes write it.
var level = regexp.MustCompile(`(?m)^ +change: \{[^0-9}]*([0-9]+)`)

// withLevel makes the first level of a note that is a number one more.
func withLevel(note string) (string, error) {
	at := level.FindStringSubmatchIndex(note)
	if at == nil {
		return "", fmt.Errorf("has no level that is a number")
	}
	n, err := strconv.Atoi(note[at[2]:at[3]])
	return note[:at[2]] + strconv.Itoa(n+1) + note[at[3]:], err
}

// reading is a cell that holds a number of two digits or more.
var reading = regexp.MustCompile(`,[0-9]{2,}[,.]`)

// withReading makes the last such reading of a log one more.
func withReading(log string) (string, error) {
	all := reading.FindAllStringIndex(log, -1)
	if all == nil {
		return "", fmt.Errorf("has no reading of two digits")
	}
	from, to := all[len(all)-1][0]+1, all[len(all)-1][1]-1
	n, err := strconv.Atoi(log[from:to])
	return log[:from] + strconv.Itoa(n+1) + log[to:], err
}

// withSentence puts a sentence before the last heading of a note.
func withSentence(note string) (string, error) {
	at := strings.LastIndex(note, "\n\n## ")
	if at < 0 {
		return "", fmt.Errorf("has no heading in its prose")
	}
	return note[:at] + " We looked twice." + note[at:], nil
}

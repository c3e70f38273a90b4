package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// programs are those that are run, and the folder for what they make.
type programs struct{ folder string }

func build(folder string) (programs, error) {
	whole, err := filepath.Abs(folder)
	if err != nil {
		return programs{}, err
	}
	if err := os.MkdirAll(whole, 0o755); err != nil {
		return programs{}, err
	}
	command := exec.Command("go", "build", "-o", whole+string(filepath.Separator), "./cmd/sidebatch", "./internal/tools/manytrials", "./internal/tools/floor")
	if said, err := command.CombinedOutput(); err != nil {
		return programs{}, fmt.Errorf("go build: %w\n%s", err, said)
	}
	return programs{whole}, nil
}

// finished is what is known of a process that has ended.
type finished struct {
	seconds   float64 // of the clock
	processor float64 // seconds, of all cores together
	memory    int64   // peak, in bytes; 0 where the system does not tell
	said      string
}

// start runs a program to its end.
func (p programs) start(name string, args ...string) (finished, error) {
	command := exec.Command(filepath.Join(p.folder, name), args...)
	begun := time.Now()
	said, err := command.CombinedOutput()
	f := finished{seconds: time.Since(begun).Seconds(), said: string(said)}
	if err != nil {
		return f, fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, said)
	}
	f.memory = peak(command.ProcessState)
	f.processor = (command.ProcessState.UserTime() + command.ProcessState.SystemTime()).Seconds()
	return f, nil
}

// measure makes a kitchen and goes through the rounds.
func (p programs) measure(trials int, a asked) (*taken, error) {
	kitchen := filepath.Join(p.folder, fmt.Sprintf("kitchen-%d", trials))
	if _, err := p.start("manytrials", "--trials", strconv.Itoa(trials), "--seed", strconv.FormatUint(a.seed, 10), kitchen); err != nil {
		return nil, err
	}
	note, err := middleNote(kitchen)
	if err != nil {
		return nil, err
	}
	t := &taken{}
	for range a.rounds {
		if err := p.round(t, kitchen, note); err != nil {
			return nil, err
		}
	}
	t.files, t.bytes, err = counted(kitchen + "-site")
	return t, err
}

// pause is longer than a step of the clock of any file system.
const pause = 3 * time.Second

// round measures each subject once.
func (p programs) round(t *taken, kitchen, note string) error {
	site, floor := kitchen+"-site", kitchen+"-floor"
	for _, folder := range []string{site, floor, cacheOf(site)} {
		if err := os.RemoveAll(folder); err != nil {
			return err
		}
	}
	publish := func(as subject) error {
		f, err := p.start("sidebatch", "publish", "--content", kitchen, "--out", site)
		t.add(as, f)
		return err
	}
	if err := publish(cold); err != nil {
		return err
	}
	if _, err := os.Stat(cacheOf(site)); err != nil {
		return fmt.Errorf("a publish into an empty folder could have found something: %w", err)
	}
	f, err := p.start("floor", "--content", kitchen, "--site", site, floor)
	if err != nil {
		return err
	}
	if f.seconds, f.processor, err = floorSeconds(f.said); err != nil {
		return err
	}
	t.add(bare, f)
	// What was written a moment ago is read again, for the file system may not tell a later
	// change of it. It is the run after that which is like all others.
	settle := func() error {
		time.Sleep(pause)
		_, err := p.start("sidebatch", "publish", "--content", kitchen, "--out", site)
		time.Sleep(pause)
		return err
	}
	if err := settle(); err != nil {
		return err
	}
	if err := publish(unchanged); err != nil {
		return err
	}
	for _, change := range []change{
		{oneSentence, note, withSentence},
		{oneTitle, note, withTitle},
		{oneReading, filepath.Join(filepath.Dir(note), "pieces.csv"), withReading},
	} {
		if err := change.measure(publish, settle); err != nil {
			return fmt.Errorf("%s: %w", change.file, err)
		}
	}
	return nil
}

// change is a change of one file.
type change struct {
	as   subject
	file string
	edit func(text string) (string, error)
}

// measure publishes with the change, then takes it back.
func (c change) measure(publish func(subject) error, settle func() error) error {
	text, err := os.ReadFile(c.file)
	if err != nil {
		return err
	}
	changed, err := c.edit(string(text))
	if err != nil {
		return err
	}
	if err := os.WriteFile(c.file, []byte(changed), 0o644); err != nil {
		return err
	}
	if err := publish(c.as); err != nil {
		return err
	}
	if err := os.WriteFile(c.file, text, 0o644); err != nil {
		return err
	}
	return settle()
}

// cacheOf is where sidebatch keeps what it remembers of a site.
func cacheOf(site string) string {
	return filepath.Join(filepath.Dir(site), "."+filepath.Base(site)+".sidebatch-cache")
}

// floorSeconds is what the floor says that it took.
func floorSeconds(said string) (seconds, processor float64, err error) {
	found := regexp.MustCompile(`(?m)^floor ([0-9]+\.[0-9]+) s, processors ([0-9]+\.[0-9]+) s,`).FindStringSubmatch(said)
	if found == nil {
		return 0, 0, fmt.Errorf("the floor does not say how long it took:\n%s", said)
	}
	if seconds, err = strconv.ParseFloat(found[1], 64); err == nil {
		processor, err = strconv.ParseFloat(found[2], 64)
	}
	return seconds, processor, err
}

// middleNote is the note in the middle of a kitchen's published ones, by their folders.
func middleNote(kitchen string) (string, error) {
	notes, err := filepath.Glob(filepath.Join(kitchen, "*", "trial.md"))
	if err != nil {
		return "", err
	}
	var published []string
	for _, note := range notes {
		text, err := os.ReadFile(note)
		if err != nil {
			return "", err
		}
		if strings.Contains(string(text), "\npublished: ") {
			published = append(published, note)
		}
	}
	if len(published) == 0 {
		return "", fmt.Errorf("%s has no published trial", kitchen)
	}
	return published[len(published)/2], nil
}

// withTitle makes the title of a note another one.
func withTitle(note string) (string, error) {
	before, after, found := strings.Cut(note, "\ntitle: ")
	if !found {
		return "", fmt.Errorf("has no title")
	}
	return before + "\ntitle: Once more, " + after, nil
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

// counted is how many files a site has, and their bytes, without those that begin with
// a dot.
func counted(site string) (files int, bytes int64, err error) {
	err = filepath.WalkDir(site, func(_ string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), ".") {
			return err
		}
		info, err := d.Info()
		if err == nil {
			files++
			bytes += info.Size()
		}
		return err
	})
	return files, bytes, err
}

package main

import (
	"errors"
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
	notes, err := publishedNotes(kitchen)
	if err != nil {
		return nil, err
	}
	r := round{programs: p, taken: &taken{}, kitchen: kitchen, site: kitchen + "-site", changes: changes(notes), asked: a}
	for range a.rounds {
		if err := r.run(); err != nil {
			return nil, err
		}
	}
	r.files, r.bytes, err = counted(r.site)
	return r.taken, err
}

// round measures each subject.
type round struct {
	programs
	*taken
	asked
	kitchen, site string
	changes       []change
}

func (r round) run() error {
	floor := r.kitchen + "-floor"
	for _, folder := range []string{r.site, floor, cacheOf(r.site)} {
		if err := os.RemoveAll(folder); err != nil {
			return err
		}
	}
	if err := r.publish(cold); err != nil {
		return err
	}
	if _, err := os.Stat(cacheOf(r.site)); err != nil {
		return fmt.Errorf("a publish into an empty folder could have found something: %w", err)
	}
	f, err := r.start("floor", "--content", r.kitchen, "--site", r.site, floor)
	if err != nil {
		return err
	}
	if f.seconds, f.processor, err = floorSeconds(f.said); err != nil {
		return err
	}
	r.add(bare, f)
	if err := r.settle(); err != nil {
		return err
	}
	for range r.turns {
		for _, c := range r.changes {
			if err := r.turn(c); err != nil {
				return fmt.Errorf("%s: %w", c.file, err)
			}
		}
	}
	return nil
}

// turn publishes with nothing changed and then with a change, which it takes back.
func (r round) turn(c change) error {
	if err := r.publishSoon(unchanged); err != nil {
		return err
	}
	back, err := c.make()
	if err != nil {
		return err
	}
	if err := errors.Join(r.publishSoon(c.as), back()); err != nil {
		return err
	}
	if _, err := r.publishOnce(); err != nil {
		return err
	}
	return r.settle()
}

func (r round) publishOnce() (finished, error) {
	return r.start("sidebatch", "publish", "--content", r.kitchen, "--out", r.site)
}

func (r round) publish(as subject) error {
	f, err := r.publishOnce()
	r.add(as, f)
	return err
}

// publishSoon publishes with memory at hand, unless the machine is to stay as it is.
func (r round) publishSoon(as subject) error {
	if !r.asItIs {
		if err := haveMemoryAtHand(); err != nil {
			return err
		}
	}
	return r.publish(as)
}

// pause is longer than a step of the clock of any file system.
const pause = 3 * time.Second

// settle lets the run pass that is like no other: what was written a moment ago is read again,
// for the file system may not tell a later change of it.
func (r round) settle() error {
	time.Sleep(pause)
	_, err := r.publishOnce()
	time.Sleep(pause)
	return err
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

// Command measure tells how fast sidebatch is, as a multiple of the floor (see
// internal/tools/floor), at several sizes of kitchen.
//
//	go run ./internal/tools/measure --trials 100,1000,10000 --seed 1 DIR
//
// It builds sidebatch and the other tools, makes a kitchen of each size, and then goes
// through rounds: publish into an empty folder, the floor, publish again with nothing
// changed, when the files are old enough for the file system to tell a change, then with a
// sentence of one note changed, with its title changed, which stands on other pages too, and
// with a reading in its log changed, so that what is added up about a factor is another sum.
// Each is a process of its own, and they take turns, so that a machine that is busy for a while is so for all of them. What
// it prints are medians over the rounds. Of the floor the seconds are those that it says
// itself, without its survey of the site; of sidebatch they are those of the whole
// process. Processor seconds are of all cores together; where other work is on the machine
// they tell more than the clock. Kitchens, sites and programs are left in DIR, to be looked at.
//
// It must be called within the module, and it judges nothing: which multiple is good
// enough is for people to say.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strconv"
	"strings"
)

func main() {
	if err := run(os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(1)
	}
}

// asked is how the command was called.
type asked struct {
	trials []int
	seed   uint64
	rounds int
	turns  int  // of the short runs in each round
	asItIs bool // memory is not put at hand for them
	folder string

	onlyMemory bool // nothing is measured
}

func run(args []string, out, usage io.Writer) error {
	a, err := readArgs(args, usage)
	if err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return nil
		}
		return err
	}
	if a.onlyMemory {
		useMemory()
		return nil
	}
	p, err := build(a.folder)
	if err != nil {
		return err
	}
	if err := heading(out); err != nil {
		return err
	}
	for _, trials := range a.trials {
		taken, err := p.measure(trials, a)
		if err != nil {
			return fmt.Errorf("%d trials: %w", trials, err)
		}
		if err := taken.report(out, trials); err != nil {
			return err
		}
	}
	return nil
}

func readArgs(args []string, usage io.Writer) (asked, error) {
	var a asked
	flags := flag.NewFlagSet("measure", flag.ContinueOnError)
	flags.SetOutput(usage)
	trials := flags.String("trials", "100,1000", "sizes of kitchen, with commas between")
	flags.Uint64Var(&a.seed, "seed", 1, "the same seed makes the same kitchens")
	flags.IntVar(&a.rounds, "rounds", 5, "how often each is measured")
	flags.IntVar(&a.turns, "turns", 3, "how often in each round nothing or one thing is changed")
	flags.BoolVar(&a.asItIs, "as-it-is", false, "have no memory at hand for the short runs, but leave the machine as it is")
	flags.BoolVar(&a.onlyMemory, "only-memory", false, "measure nothing: use memory until it is at hand for another program")
	if err := flags.Parse(args); err != nil || a.onlyMemory {
		return a, err
	}
	if flags.NArg() != 1 {
		return a, errors.New("name one folder for kitchens and sites")
	}
	a.folder = flags.Arg(0)
	for word := range strings.SplitSeq(*trials, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(word))
		if err != nil || n < 1 {
			return a, fmt.Errorf("--trials %s: %q is no number of trials", *trials, word)
		}
		a.trials = append(a.trials, n)
	}
	if a.rounds < 1 {
		return a, fmt.Errorf("--rounds %d: at least one is needed", a.rounds)
	}
	if a.turns < 1 {
		return a, fmt.Errorf("--turns %d: at least one is needed", a.turns)
	}
	switch there, err := os.ReadDir(a.folder); {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return a, err
	case len(there) > 0:
		return a, fmt.Errorf("%s is not empty (name a new folder)", a.folder)
	}
	return a, nil
}

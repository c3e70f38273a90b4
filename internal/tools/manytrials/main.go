// Command manytrials makes a kitchen of any size, to see how sidebatch fares with ten
// years of work in it. Recipes, people, readings and sentences are all invented, and
// kitchen.yaml says so; the same seed gives the same bytes, and a larger kitchen of one
// seed holds the smaller ones.
//
// It serves those who work on sidebatch. It is no part of the program, it writes into an
// empty folder only, and it looks at nothing but its own tables: that the notes can be
// read and that what they cite agrees with their logs is for its test to say.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

func main() {
	if err := run(os.Args[1:], os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "manytrials:", err)
		os.Exit(1)
	}
}

// file is one file of a kitchen, its path with slashes.
type file struct {
	path string
	text string
}

func run(args []string, out io.Writer) error {
	flags := flag.NewFlagSet("manytrials", flag.ContinueOnError)
	flags.SetOutput(out)
	trials := flags.Int("trials", 100, "how many trials, from 1 to 100000")
	seed := flags.Uint64("seed", 1, "the same seed makes the same kitchen")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return nil
	case err != nil:
		return err
	case flags.NArg() != 1:
		return errors.New("name one folder to write the kitchen into")
	case *trials < 1 || *trials > 100_000:
		return fmt.Errorf("%d trials cannot be made (1 to 100000 can)", *trials)
	}
	return writeKitchen(flags.Arg(0), *trials, *seed)
}

// writeKitchen writes a kitchen into a folder that is empty or not there yet.
func writeKitchen(folder string, trials int, seed uint64) error {
	switch there, err := os.ReadDir(folder); {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	case len(there) > 0:
		return fmt.Errorf("%s is not empty (name a new folder)", folder)
	}
	if err := write(folder, file{"kitchen.yaml", kitchenFile()}); err != nil {
		return err
	}
	for i := range trials {
		for _, f := range planOf(seed, i).files() {
			if err := write(folder, f); err != nil {
				return err
			}
		}
	}
	return nil
}

func write(folder string, f file) error {
	to := filepath.Join(folder, filepath.FromSlash(f.path))
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		return err
	}
	return os.WriteFile(to, []byte(f.text), 0o644)
}

func kitchenFile() string {
	return `# A kitchen made by a program, to try sidebatch on many trials. All of it is invented.
name: Tern Street
about: >-
  Ten years of trials that nobody cooked. The kitchen, its people and all numbers are made by a
  program, to show how a large site behaves.
people: {Odile: Odile Marrick, Tamsin: Tamsin Vey, Jory: Jory Pell} # invented
address: https://tern-street.example/
language: en
units: [metric, us]
sizes: [1/2, 1, 2]
altitude: 120 m
instruments:
  scale: 1 g
  spoons: [1/8 tsp, 1/4 tsp, 1/2 tsp, 1 tsp, 1 tbsp]
  cups: [1/4 cup, 1/3 cup, 1/2 cup, 1 cup]
  thermometer: {reads: 0.5 °C, accurate to: 1 °C}
  timer: 1 s
allergens: both
licence: {name: CC0 1.0, address: "https://creativecommons.org/publicdomain/zero/1.0/"}
invented: true
theme: bench
`
}

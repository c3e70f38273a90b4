// Command floor does the least work that any program must do that makes a given site of
// a given kitchen, so that the speed of sidebatch can be told as a multiple of it.
//
//	floor --content DIR --site PUBLISHED OUT
//
// It looks at the site first and counts: files by kind and size, figures and what they
// are drawn of, pictures and their sizes. This survey is no part of the floor and is
// timed on its own. Then a bare loop on GOMAXPROCS goroutines
//
//   - reads every file of the kitchen, front matter into nodes (yaml.v3), prose into
//     HTML (goldmark), logs into cells (encoding/csv), and marks up the note (chroma);
//   - draws as many figures (gonum/plot) of as many lines and texts onto a canvas that
//     writes SVG, and as many share pictures (vgimg, image/png) of 1200 × 630 pixels;
//   - scales as many photos (golang.org/x/image) to the same sizes;
//   - executes a page template (html/template) with loops and conditions for every page,
//     up to the same number of bytes, and makes it smaller (minify);
//   - marshals as many bytes of JSON, and copies the rest;
//   - writes as many files of the same sizes: each into a staging folder, synced, then
//     all of them renamed to their place and each folder synced. That is what press
//     promises; --sync=false leaves the syncing out.
//
// It computes nothing of a trial, checks nothing, follows no link and remembers nothing
// for the next run. Where it and sidebatch could differ, it does less. It refuses to know
// sidebatch: it imports none of its rooms, so that none of their slowness can get in.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"
)

func main() {
	if err := run(os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "floor:", err)
		os.Exit(1)
	}
}

// asked is how the command was called.
type asked struct {
	content, site, out string
	sync               bool
}

func run(args []string, out, usage io.Writer) error {
	a, err := readArgs(args, usage)
	if err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return nil
		}
		return err
	}
	begun := time.Now()
	seen, err := survey(os.DirFS(a.site))
	if err != nil {
		return fmt.Errorf("%s: %w", a.site, err)
	}
	surveyed := time.Since(begun)
	begun, used := time.Now(), processor()
	t := &tally{}
	if err := work(a, seen, t); err != nil {
		return err
	}
	return t.report(out, spent{survey: surveyed, floor: time.Since(begun), processor: processor() - used})
}

func readArgs(args []string, usage io.Writer) (asked, error) {
	var a asked
	flags := flag.NewFlagSet("floor", flag.ContinueOnError)
	flags.SetOutput(usage)
	flags.StringVar(&a.content, "content", "", "the kitchen's folder")
	flags.StringVar(&a.site, "site", "", "the site that was published from it")
	flags.BoolVar(&a.sync, "sync", true, "sync every file and folder, as press does")
	if err := flags.Parse(args); err != nil {
		return a, err
	}
	if flags.NArg() != 1 || a.content == "" || a.site == "" {
		return a, errors.New("want --content DIR --site PUBLISHED OUT")
	}
	a.out = flags.Arg(0)
	switch there, err := os.ReadDir(a.out); {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return a, err
	case len(there) > 0:
		return a, fmt.Errorf("%s is not empty (name a new folder)", a.out)
	}
	return a, nil
}

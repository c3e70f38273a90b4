package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/kitchen"
	"sidebatch.example/sidebatch/internal/linkcheck"
	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/press"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/site"
)

// places are the folders that publish works with.
type places struct {
	content, out, theme string
}

// publishing is how publish was called.
type publishing struct {
	places
	compressed, explain bool
}

func publish() *cobra.Command {
	var at publishing
	c := &cobra.Command{
		Use:   "publish",
		Short: "Write the site",
		Long: `publish reads the kitchen and all its trials and writes the site. A note
without a date under published is left out.

When a note has an error, nothing is written and the old site stays as it was.
The same where an address that a theme wrote leads nowhere on the site.
Files that sidebatch did not write are never touched.

With --compressed every text file gets two neighbours, FILE.br and FILE.gz, for
hosts that send such files to browsers that take them. --explain tells where the
time went.

Ctrl-C stops it, and the old site is as it was. A second one ends it at once;
then the next publish clears up.`,
		Example: `  sidebatch publish
  sidebatch publish --content kitchen --out site --theme my-theme`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			ctx, stop := stoppable(c.Context())
			defer stop()
			return at.publish(ctx, c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&at.content, "content", "content", "the folder with the kitchen and its trials")
	c.Flags().StringVar(&at.out, "out", "public", "the folder to write the site into")
	c.Flags().StringVar(&at.theme, "theme", "", "a theme folder, instead of the kitchen's own choice")
	c.Flags().BoolVar(&at.compressed, "compressed", false, "write each text file compressed as well, as FILE.br and FILE.gz")
	c.Flags().BoolVar(&at.explain, "explain", false, "say where the time went")
	return c
}

func (at publishing) publish(ctx context.Context, stdout, stderr io.Writer) error {
	watch := startWatch()
	boundMemory()
	var problems problem.List
	far := startProgress(stderr)
	defer far.end()
	content, err := open(at.content, at.theme)
	if err != nil {
		return err
	}
	defer content.Close()
	content.Read = far.telling("trials read")
	k := content.kitchen(&problems)
	look, err := at.look(k)
	if err != nil {
		return err
	}
	kept := cache.At(press.CacheOf(at.out))
	memory := site.Remember(kept)
	run := &publishRun{
		publishing: at, watch: watch, far: far, memory: memory, stdout: stdout, stderr: stderr,
		surveyor: site.Surveyor{Content: content.Content, Kitchen: k, Look: look, Memory: memory},
		way:      press.Options{Out: at.out, Cache: kept, Made: far.telling("files made"), Inspect: watch.inspecting(linkcheck.New(k.Address))},
	}
	return run.publish(ctx, problems)
}

// publishRun is one publish, whose kitchen is open.
type publishRun struct {
	publishing
	surveyor       site.Surveyor
	way            press.Options
	memory         *site.Memory
	watch          *stopwatch
	far            *progress
	stdout, stderr io.Writer
}

// publish writes what changed.
func (r *publishRun) publish(ctx context.Context, problems problem.List) error {
	var standing site.Standing
	var index *site.Index // nil as long as the last run is known to have been of the same
	still := func() (all site.Digest) {
		defer r.watch.done(stepLooking)
		if problems.Errors() > 0 {
			return all
		}
		known, ok := r.surveyor.Standing()
		if !ok {
			return all
		}
		standing = known
		return r.all(known)
	}
	lots := func() ([]site.Lot, site.Digest, error) {
		var err error
		if index, err = r.read(ctx, &problems); err != nil {
			return nil, site.Digest{}, err
		}
		defer r.watch.done(stepPlanning)
		standing = index.Standing(problems)
		return r.lots(index, r.watch), r.all(standing), nil
	}
	keep := func() error { return r.memory.Keep(index, standing) }
	wrote, err := press.Run(ctx, press.Source{Still: still, Lots: lots, Keep: keep}, r.way)
	if errors.Is(err, errNotes) {
		r.far.end()
		return refuse(r.stderr, problems)
	}
	if err != nil {
		return r.nothing(err)
	}
	if index == nil {
		r.watch.done(stepSite)
	} else {
		r.watch.done(stepWriting)
	}
	r.tell(standing, wrote)
	return nil
}

// errNotes says that there are errors in the notes, which are told one by one.
var errNotes = errors.New("there are errors in the notes")

// read reads the trials that changed.
func (r *publishRun) read(ctx context.Context, problems *problem.List) (*site.Index, error) {
	index, err := unlessStopped(ctx, func() *site.Index { return r.surveyor.Survey(problems) })
	if err != nil {
		return nil, fmt.Errorf("publishing was stopped: %w", err)
	}
	r.watch.done(stepReading)
	if problems.Errors() > 0 {
		return nil, errNotes
	}
	return index, nil
}

// nothing says why nothing was written.
func (r *publishRun) nothing(why error) error {
	r.far.end()
	return exit{CouldNotRun, fmt.Errorf("nothing was changed in %s: %w", filepath.ToSlash(r.out), why)}
}

// tell says what was published.
func (r *publishRun) tell(s site.Standing, wrote press.Summary) {
	r.far.end()
	if wrote.CacheError != nil {
		fmt.Fprintf(r.stderr, "the site is written, but the next publish will take longer: %v\n", wrote.CacheError)
	}
	if s.Questions > 0 {
		fmt.Fprintf(r.stderr, "%s about the notes: sidebatch audit tells\n", counted(s.Questions, "question"))
	}
	fmt.Fprintln(r.stdout, r.summary(s, wrote, r.watch.all()))
	if r.explain {
		r.watch.explain(r.stdout)
	}
}

// all stands for all that the files to write are made of.
func (at publishing) all(s site.Standing) site.Digest {
	if at.compressed {
		return site.CompressedAll(s.All)
	}
	return s.All
}

// refuse tells the errors for which nothing is written.
func refuse(stderr io.Writer, problems problem.List) error {
	colours := inkFor(stderr)
	for _, p := range problems.Sorted() {
		if p.Weight == problem.Error {
			fmt.Fprintln(stderr, colours.problem(p))
		}
	}
	return exit{WrongNotes, fmt.Errorf("%s in the notes: nothing was written", counted(problems.Errors(), "error"))}
}

// lots are the files to write.
func (at publishing) lots(x *site.Index, watch *stopwatch) []site.Lot {
	lots := x.Plan()
	if at.compressed {
		lots = site.Compressed(lots)
	}
	if at.explain {
		lots = watch.timing(lots)
	}
	return lots
}

// look opens the theme.
func (at places) look(k kitchen.Kitchen) (site.Look, error) {
	chosen, err := theme(at.theme, at.content, k.Theme)
	if err != nil {
		return site.Look{}, err
	}
	name := make(chan string, 1) // the program is large, and read meanwhile
	go func() { name <- programName(chosen) }()
	renderer, err := page.New(chosen)
	if err != nil {
		return site.Look{}, exit{CouldNotRun, err}
	}
	methods, err := page.MethodTexts(chosen, k.Language)
	if err != nil {
		return site.Look{}, exit{CouldNotRun, err}
	}
	return site.Look{Pages: renderer, Methods: methods, Program: <-name}, nil
}

// summary is the one line that publish ends with.
func (at places) summary(s site.Standing, wrote press.Summary, took time.Duration) string {
	line := fmt.Sprintf("published %s to %s: %s (%.1f kB), %d of them new or changed",
		counted(s.Trials, "trial"), filepath.ToSlash(at.out), counted(wrote.Files, "file"),
		float64(wrote.Bytes)/1000, wrote.Written)
	if wrote.Removed > 0 {
		line += fmt.Sprintf(", %d removed", wrote.Removed)
	}
	if n := s.InProgress; n > 0 {
		line += fmt.Sprintf("; left out %s in progress", counted(n, "note"))
	}
	return fmt.Sprintf("%s; took %.2f s", line, took.Seconds())
}

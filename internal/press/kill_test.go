package press

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
)

// The swap that the tests interrupt holds every kind of change: pages replaced,
// added and removed, a file that becomes a folder, a folder that becomes a file.
func swapFrom() files {
	return files{"index.html": "old", "rye/index.html": "old rye", "gone/deep/x": "old x", "turn": "old turn", "fold/a": "old a", "fold/b/c": "old c"}
}

func swapTo() files {
	return files{"index.html": "new", "rye/index.html": "new rye", "oat/index.html": "new oat", "turn/inside": "new turn", "fold": "new fold", "s.css": "new css"}
}

// dieAt ends the process before the nth change, counted from 0 forward and back.
func dieAt(n int, back bool) hook {
	seen := 0
	return func(_ change, b bool) error {
		if b == back {
			if seen == n {
				os.Exit(killed)
			}
			seen++
		}
		return nil
	}
}

const (
	killed  = 86 // exit status of a child that died where it was told to
	childIs = "SIDEBATCH_PRESS_TEST_CHILD"
)

// TestChild is the process that is killed; on its own it does nothing.
func TestChild(t *testing.T) {
	if os.Getenv(childIs) == "" {
		t.Skip("runs only as a child of TestKilled")
	}
	n, err := strconv.Atoi(os.Getenv(childIs + "_AT"))
	if err != nil {
		t.Fatal(err)
	}
	die := dieAt(n, false)
	if os.Getenv(childIs) == "back" {
		dieBack := dieAt(n, true)
		die = func(c change, back bool) error {
			if !back && c.path == listName { // the last put fails, so that everything is taken back
				return errors.New("the disk is full")
			}
			return dieBack(c, back)
		}
	}
	_, err = publishAll(t.Context(), swapTo().outputs(), Options{Out: os.Getenv(childIs + "_OUT"), before: die})
	if err != nil && os.Getenv(childIs) == "forward" {
		t.Fatal(err)
	}
}

// runChild reports whether the child died before the nth change.
func runChild(t *testing.T, out, way string, n int) bool {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestChild$")
	cmd.Env = append(os.Environ(), childIs+"="+way, childIs+"_AT="+strconv.Itoa(n), childIs+"_OUT="+out)
	said, err := cmd.CombinedOutput()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() == killed {
		return true
	}
	if err != nil {
		t.Fatalf("child %s %d: %v\n%s", way, n, err, said)
	}
	return false
}

// A process that ends anywhere in the swap leaves whole files only, and the next
// run, even one that itself fails, finds a whole site: the new one if the killed
// run was going forward, the old one if it was going back.
func TestKilled(t *testing.T) {
	for way, want := range map[string]files{"forward": swapTo(), "back": swapFrom()} {
		t.Run(way, func(t *testing.T) {
			t.Parallel()
			deaths := 0
			for n := 0; ; n++ {
				out := newFolder(t)
				write(t, out, ".gitkeep", "")
				mustRun(t, out, swapFrom())
				if !runChild(t, out, way, n) {
					break
				}
				deaths++
				checkWhole(t, out, swapFrom(), swapTo())
				_, err := publishAll(t.Context(), []site.Output{failing("x", errors.New("still broken"))}, Options{Out: out})
				checkError(t, err, nil, []string{"x: still broken"})
				check(t, out, want.with(files{".gitkeep": ""}))
				mustRun(t, out, files{"third": "3"})
				check(t, out, files{".gitkeep": "", "third": "3"})
			}
			if least := len(swapTo()) + 2; deaths < least {
				t.Errorf("died %d times, want at least %d", deaths, least)
			}
		})
	}
}

// An error in the swap, at any change, takes back what was done before it.
func TestErrorInTheSwap(t *testing.T) {
	t.Parallel()
	errDisk := errors.New("the disk is full")
	for n := 0; ; n++ {
		out := newFolder(t)
		mustRun(t, out, swapFrom())
		seen := 0
		_, err := publishAll(t.Context(), swapTo().outputs(), Options{Out: out, before: func(_ change, back bool) error {
			if seen++; !back && seen == n+1 {
				return errDisk
			}
			return nil
		}})
		if err == nil {
			check(t, out, swapTo())
			if n < len(swapTo()) {
				t.Errorf("only %d changes", n)
			}
			return
		}
		checkError(t, err, errDisk, []string{"the disk is full"})
		check(t, out, swapFrom())
	}
}

// Where even taking back fails, the run says so and the next one finishes it.
func TestErrorOnTheWayBack(t *testing.T) {
	errDisk := errors.New("the disk is full")
	out := newFolder(t)
	mustRun(t, out, swapFrom())
	_, err := publishAll(t.Context(), swapTo().outputs(), Options{Out: out, before: func(c change, back bool) error {
		if c.path == listName || back && c.path == "index.html" {
			return errDisk
		}
		return nil
	}})
	checkError(t, err, errDisk, []string{"the disk is full", "could not be put back in full (publish again to finish)", "index.html: the disk is full"})
	_, err = publishAll(t.Context(), []site.Output{failing("x", errDisk)}, Options{Out: out})
	checkError(t, err, errDisk, []string{"x: the disk is full"})
	check(t, out, swapFrom())
}

// A file that appears where the killed run was about to write is not lost: the
// run is taken back instead, and the file refused like any other.
func TestForeignFileBeforeTheSwapIsFinished(t *testing.T) {
	out := newFolder(t)
	mustRun(t, out, swapFrom())
	if !runChild(t, out, "forward", 0) {
		t.Fatal("the child lived")
	}
	write(t, out, "s.css", "mine")
	_, err := publishAll(t.Context(), swapTo().outputs(), Options{Out: out})
	checkError(t, err, ErrForeign, []string{"s.css: in the way"})
	check(t, out, swapFrom().with(files{"s.css": "mine"}))
}

func TestUnreadableJournal(t *testing.T) {
	for _, text := range []string{"", header, header + "put 0 - ../x\n" + ending, header + "put 0 - /x\n" + ending, header + "burn 0 - x\n" + ending,
		header + "put -1 - x\n" + ending, header + "put 0 ff x\n" + ending, header + "put 0 -\n" + ending, header + "drop 0 - " + listName + "\n" + ending} {
		out := newFolder(t)
		set := files{"index.html": "x"}
		mustRun(t, out, set)
		write(t, out, swapName+"/"+journalName, text)
		_, err := publishAll(t.Context(), set.outputs(), Options{Out: out})
		checkError(t, err, errJournal, []string{"empty the folder"})
		check(t, out, set.with(files{swapName + "/" + journalName: text}))
	}
}

// Leftover staging of a run that was killed while making is cleared away.
func TestLeftoverStaging(t *testing.T) {
	out := newFolder(t)
	write(t, filepath.Dir(out), ".public.sidebatch-staging/new/0", "half")
	write(t, out, doneName+"/old/1", "old")
	mustRun(t, out, files{"a": "a"})
	check(t, out, files{"a": "a"})
}

// errKilled ends a run from inside a hook as a kill would: nothing after it is
// done, except that files are closed and the lock is let go.
var errKilled = errors.New("killed")

// After any sequence of publishing, failing and dying, the folder holds the last
// site that was certain, and what never belonged to sidebatch is still there.
func TestAnySequence(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		top, err := os.MkdirTemp("", "press")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(top)
		out := filepath.Join(top, "public")
		foreign := files{".gitkeep": "", ".well-known/mine": "mine"}
		for name, text := range foreign {
			write(t, out, name, text)
		}
		last := files{}
		for range rapid.IntRange(1, 4).Draw(t, "runs") {
			set := drawSite(t)
			o := Options{Out: out, Workers: rapid.SampledFrom([]int{1, 8}).Draw(t, "workers")}
			if rapid.Bool().Draw(t, "keeping") {
				o.Cache = cache.At(CacheOf(out))
			}
			last = drawRun(t, o, last, set)
			// A run that fails while making heals first and changes nothing else.
			_, err := publishAll(context.Background(), []site.Output{failing("x", errKilled)}, o)
			if !errors.Is(err, errKilled) {
				t.Fatal(err)
			}
			if diff := cmp.Diff(last.with(foreign), held(t, out)); diff != "" {
				t.Fatalf("the folder (-want +got):\n%s", diff)
			}
		}
		if err := os.RemoveAll(CacheOf(out)); err != nil {
			t.Fatal(err)
		}
		if beside, err := os.ReadDir(top); err != nil || len(beside) != 1 {
			t.Fatalf("left beside the site: %v, %v", beside, err)
		}
	})
}

// drawRun publishes a set in one of several ways and returns the site that the
// folder must hold once it is healed.
func drawRun(t *rapid.T, o Options, last, set files) files {
	way := rapid.SampledFrom([]string{"well", "fails making", "fails swapping", "dies swapping", "dies going back"}).Draw(t, "way")
	at := rapid.IntRange(0, 12).Draw(t, "at")
	outputs, _ := set.known()
	seen, seenBack := 0, 0
	o.before = func(_ change, back bool) error {
		if back {
			if seenBack++; way == "dies going back" && seenBack > at/2 {
				panic(errKilled)
			}
			return nil
		}
		if seen++; seen <= at || way == "well" {
			return nil
		}
		if way == "dies swapping" {
			panic(errKilled)
		}
		return errKilled
	}
	if way == "fails making" {
		outputs = append(outputs, failing("~", errKilled))
	}
	err := runUntilKilled(outputs, o)
	if err != nil && !errors.Is(err, errKilled) {
		t.Fatal(err)
	}
	if err == nil || way == "dies swapping" {
		return set
	}
	return last
}

func runUntilKilled(outputs []site.Output, o Options) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = v.(error)
		}
	}()
	_, err = publishAll(context.Background(), outputs, o)
	return err
}

// drawSite draws a site from few names, so that the same path comes back as
// another file, as a folder, in other letters.
func drawSite(t *rapid.T) files {
	name := rapid.SampledFrom([]string{"a", "b", "B", "index.html", "feed.xml"})
	set := files{}
	for range rapid.IntRange(0, 7).Draw(t, "size") {
		p := name.Draw(t, "name")
		for range rapid.IntRange(0, 2).Draw(t, "depth") {
			p += "/" + name.Draw(t, "name")
		}
		more := set.with(files{p: fmt.Sprint(rapid.IntRange(0, 2).Draw(t, "text"))})
		if err := ordered(more.outputs()).check(); err == nil {
			set = more
		}
	}
	return set
}

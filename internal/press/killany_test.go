package press

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strconv"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"sidebatch.example/sidebatch/internal/cache"
	"sidebatch.example/sidebatch/internal/site"
	"sidebatch.example/sidebatch/internal/testkit"
)

// manyFiles is a site in its nth edition: pages and folders come and go with it.
func manyFiles(n int) files {
	all := files{}
	for i := range 120 {
		if (i+n)%7 > 0 {
			all[fmt.Sprintf("trial-%d/part-%d/index.html", i%11, (i+n%3)%40)] = fmt.Sprintf("edition %d of file %d", n, i)
		}
	}
	all["index.html"] = fmt.Sprintf("edition %d", n)
	return all
}

const nthIs = childIs + "_EDITION"

// TestChildOfMany publishes one edition; it says so first, so that whoever kills it need
// not wait for a process to begin. On its own it does nothing.
func TestChildOfMany(t *testing.T) {
	n, err := strconv.Atoi(os.Getenv(nthIs))
	if err != nil {
		t.Skip("runs only as a child of TestKilledAtAnyMoment")
	}
	fmt.Println()
	out := os.Getenv(childIs + "_OUT")
	o := Options{Out: out}
	if n%2 == 0 {
		o.Cache = cache.At(CacheOf(out))
	}
	if _, err := publishAll(t.Context(), manyFiles(n).outputs(), o); err != nil {
		t.Fatal(err)
	}
}

// startChild starts a child and returns when it is about to publish.
func startChild(t *testing.T, out string, n int) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestChildOfMany$")
	cmd.Env = append(os.Environ(), nthIs+"="+strconv.Itoa(n), childIs+"_OUT="+out)
	said, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err == nil {
		_, err = io.ReadFull(said, make([]byte, 1))
	}
	if err != nil {
		t.Fatal(err)
	}
	go func() { _, _ = io.Copy(io.Discard, said) }()
	return cmd
}

// TestKilledAtAnyMoment kills a publishing process a hundred times, after a random part of
// the time that it takes: readers find whole files only, and the next run, even one that
// fails, finds the old site or the new one.
func TestKilledAtAnyMoment(t *testing.T) {
	if testing.Short() {
		t.Skip("long")
	}
	out := newFolder(t)
	mustRun(t, out, manyFiles(0))
	var took time.Duration
	for n := 1; n <= 3; n++ {
		begun := time.Now()
		if err := startChild(t, out, n).Wait(); err != nil {
			t.Fatal(err)
		}
		took += time.Since(begun) / 3
	}
	random := testkit.Rand(t)
	deaths, forward := 0, 0
	last := 3
	for n := 4; n < 104; n++ {
		child := startChild(t, out, n)
		time.Sleep(time.Duration(random.Int64N(int64(took))))
		_ = child.Process.Kill() // it may be done already
		if err := child.Wait(); err != nil {
			deaths++
		}
		old, now := manyFiles(last), manyFiles(n)
		checkWhole(t, out, old, now)
		_, err := publishAll(t.Context(), []site.Output{failing("x", errors.New("still broken"))}, Options{Out: out})
		checkError(t, err, nil, []string{"x: still broken"})
		got := held(t, out)
		isNew := cmp.Equal(got, now)
		if !isNew && !cmp.Equal(got, old) {
			t.Fatalf("edition %d is neither the old site nor the new one: %s", n, cmp.Diff(now, got))
		}
		if isNew {
			forward++
			last = n
		}
	}
	if deaths < 20 || forward == 0 || forward == 100 {
		t.Errorf("killed %d times before the end, and %d times the new site stood: this shows little", deaths, forward)
	}
}

// checkWhole fails for a file that neither of two sites has.
func checkWhole(t *testing.T, out string, old, now files) {
	t.Helper()
	for path, text := range held(t, out) {
		if path[0] == '.' || path[len(path)-1] == '/' {
			continue
		}
		was, a := old[path]
		is, b := now[path]
		if !(a && text == was) && !(b && text == is) {
			t.Errorf("%s holds %q", path, text)
		}
	}
}

package site

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"sidebatch.example/sidebatch/internal/problem"
)

// realKitchen is a kitchen in a folder of the disk, with what runs remember of it.
type realKitchen struct {
	*testing.T
	dir   string
	look  Look
	store *blobs
}

func (k realKitchen) write(name, text string) {
	k.Helper()
	p := filepath.Join(k.dir, name)
	if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
		k.Fatal(err)
	}
	if err := os.WriteFile(p, []byte(text), 0o644); err != nil {
		k.Fatal(err)
	}
}

func (k realKitchen) trial(slug, published string) {
	k.Helper()
	k.write(slug+"/trial.md", string(keptNote("Trial "+slug, published, "", "As we did.").Data))
	k.write(slug+"/pieces.csv", string(keptLog("62").Data))
}

func (k realKitchen) surveyor(look Look) Surveyor {
	k.Helper()
	memory := Remember(k.store)
	var problems problem.List
	content := Content{FS: os.DirFS(k.dir), Shown: "k"}
	return Surveyor{Content: content, Kitchen: ReadKitchen(content, &problems), Look: look, Memory: memory}
}

// survey reads the kitchen and has the run remembered.
func (k realKitchen) survey() Standing {
	k.Helper()
	var problems problem.List
	v := k.surveyor(k.look)
	x := v.Survey(&problems)
	if problems.Errors() > 0 {
		k.Fatal(problems.Sorted())
	}
	s := x.Standing(problems)
	if err := v.Memory.Keep(x, s); err != nil {
		k.Fatal(err)
	}
	return s
}

// TestStanding: a kitchen where nothing was done is what it was, and any other is read.
func TestStanding(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("folders are not believed to tell what came into them")
	}
	k := realKitchen{T: t, dir: t.TempDir(), look: testLook(t), store: &blobs{now: time.Now().Add(time.Hour), held: map[string]blob{}}}
	k.look.Program = "this one"
	k.trial("a", "published: 2025-01-01")
	k.trial("b", "published: 2025-02-01")
	k.trial("c", "")
	want := k.survey()
	if want.Trials != 2 || want.InProgress != 1 || want.All == (Digest{}) {
		t.Fatalf("%+v", want)
	}
	same := func(what string) {
		t.Helper()
		if got, still := k.surveyor(k.look).Standing(); !still || got != want {
			t.Errorf("%s: %+v, %v", what, got, still)
		}
	}
	other := func(what string, look Look) {
		t.Helper()
		if got, still := k.surveyor(look).Standing(); still {
			t.Errorf("%s: taken for what it was: %+v", what, got)
		}
	}
	same("nothing done")
	drafts, program := k.look, k.look
	drafts.InProgress, program.Program = !k.look.InProgress, "another one"
	other("notes in progress are left out", drafts)
	other("another program", program)
	for _, c := range []struct {
		what string
		do   func()
		all  bool // what the files are made of is another as well
	}{
		{"a note changed", func() { k.trial("a", "published: 2025-03-01") }, true},
		{"a log more", func() { k.write("b/probe-rest.csv", "time,water\n0,20\n1,30\n") }, true},
		{"a trial more", func() { k.trial("d", "published: 2025-03-04") }, true},
		{"a trial less", func() { _ = os.RemoveAll(filepath.Join(k.dir, "d")) }, true},
		{"a folder without a note", func() { _ = os.Mkdir(filepath.Join(k.dir, "e"), 0o755) }, false},
		{"and none again", func() { _ = os.Remove(filepath.Join(k.dir, "e")) }, false},
		{"the kitchen's file", func() { k.write("kitchen.yaml", "name: Another kitchen\n") }, true},
		{"a note written again", func() { k.trial("c", "") }, false},
	} {
		before := want.All
		c.do()
		if c.what != "and none again" {
			other(c.what, k.look)
		}
		want = k.survey()
		if got := want.All != before; got != c.all {
			t.Errorf("%s: made of something else: %v", c.what, got)
		}
		if c.what != "a folder without a note" { // which is asked about in every run
			same("after that: " + c.what)
		}
	}
}

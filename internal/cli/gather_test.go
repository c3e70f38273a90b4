package cli

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestGatherAnonymous: what a viewer put into words, and what their file is called, stands
// in no byte that gather writes and in none that is published; with their word it does.
func TestGatherAnonymous(t *testing.T) {
	const log = `sample,batch,piece,side 1,side 2,surface,flips clean,lacy edge,set aside,note
fresh,1,Xanthippe 1,1:30,50,181 °C,fail,no,"side 1: Xanthippe, on the telephone",Xanthippe was here
fresh,1,2,1:28,52,180 °C,fail,no,,=Xanthippe
rested,1,1,1:10,48,182 °C,pass,yes,Xanthippe dropped it,
rested,1,2,1:12,47,183 °C,pass,yes,,
rested,1,3,1:11,46,181 °C,pass,yes,"side 2, surface: Xanthippe; lacy edge: Xanthippe again",
`
	at := t.TempDir()
	content := filepath.Join(at, "content")
	if err := os.CopyFS(content, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(at, "from-Xanthippe.csv")
	if err := os.WriteFile(file, []byte(log), 0o666); err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) string {
		t.Helper()
		var said bytes.Buffer
		if code := Run(append(args, "--content", content), io.Discard, &said); code != Done {
			t.Fatalf("%s ends with %d: %s", args[0], code, &said)
		}
		return said.String()
	}
	site := filepath.Join(at, "site")
	run("gather", "rested-oat-batter", file)
	run("publish", "--out", site)
	if named := namedIn(t, at, filepath.Base(file)); len(named) > 0 {
		t.Errorf("the sender is named in %q", named)
	}
	if page, err := os.ReadFile(filepath.Join(site, "rested-oat-batter/index.html")); err != nil || !bytes.Contains(page, []byte("Household 5")) {
		t.Errorf("the write-up does not show the household: %v", err)
	}
	run("gather", "rested-oat-batter", file, "--alike", "--agreed", "--from", "Xanthippe Moss")
	run("publish", "--out", site)
	want := []string{"household-6.csv", "people.yaml", "index.html", "results.json", "replications-household-6.csv"}
	named := strings.Join(namedIn(t, at, filepath.Base(file)), "\n")
	for _, name := range want {
		if !strings.Contains(named, name) {
			t.Errorf("whoever agreed is not named in %s, only in\n%s", name, named)
		}
	}
}

// namedIn lists the files below a folder, but one, that hold the sender's name.
func namedIn(t *testing.T, folder, but string) []string {
	t.Helper()
	var named []string
	err := fs.WalkDir(os.DirFS(folder), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || p == but {
			return err
		}
		data, err := fs.ReadFile(os.DirFS(folder), p)
		if bytes.Contains(bytes.ToLower(data), []byte("xanthippe")) || strings.Contains(strings.ToLower(p), "xanthippe") {
			named = append(named, p)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return named
}

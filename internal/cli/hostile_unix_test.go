//go:build unix

package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// TestHostileFiles: what lies in the place of a file may be a pipe, a device, a folder, a
// link that leads out, or a file larger than the memory. Nothing waits, nothing outside is
// read or written, and the message names the file. A pipe would keep the test for ever.
func TestHostileFiles(t *testing.T) {
	const showing = "\n![A bowl of millet](photos/a.jpg)\n"
	for _, test := range []struct {
		file  string                  // that is not what it seems
		make  func(path string) error // makes it
		said  string                  // by audit; empty where nothing is wrong
		prose string                  // added to the note
	}{
		{"kitchen.yaml", pipe, "kitchen.yaml: is not a file", ""},
		{"kitchen.yaml", huge, "kitchen.yaml: is larger than", ""},
		{"kitchen.yaml", device, "kitchen.yaml: cannot be opened", ""},
		{"kitchen.yaml", folder, "kitchen.yaml: is not a file", ""},
		{"millet/trial.md", pipe, "trial.md: is not a file", ""},
		{"millet/trial.md", huge, "trial.md: is larger than", ""},
		{"millet/pieces.csv", pipe, "pieces.csv: is not a file", ""},
		{"millet/pieces.csv", device, "pieces.csv: cannot be opened", ""},
		{"millet/pieces.csv", huge, "pieces.csv: is larger than", ""},
		{"millet/pieces.csv", outside, "pieces.csv: cannot be opened", ""},
		{"millet/replications/household-1.csv", pipe, "household-1.csv: is not a file", ""},
		{"millet/replications/household-1.csv", outside, "household-1.csv: cannot be opened", ""},
		{"millet/replications/people.yaml", pipe, "people.yaml: is not a file", ""},
		{"millet/photos/a.jpg", pipe, "there is no picture", showing},
		{"millet/photos/a.jpg", outside, "there is no picture", showing},
		{"millet/photos/a.jpg", huge, "photos/a.jpg is larger than", showing},
		{"secret", outside, "", ""},
	} {
		t.Run(filepath.Base(test.file)+" "+test.said, func(t *testing.T) {
			content := filepath.Join(t.TempDir(), "content")
			plainKitchen(t, content)
			if test.prose != "" {
				appendTo(t, filepath.Join(content, "millet/trial.md"), test.prose)
			}
			path := filepath.Join(content, test.file)
			if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
				t.Fatal(err)
			}
			_ = os.Remove(path) // it need not be there
			if err := test.make(path); err != nil {
				t.Skip(err)
			}
			var stdout, stderr bytes.Buffer
			code := Run([]string{"publish", "--content", content, "--out", filepath.Join(t.TempDir(), "site")}, &stdout, &stderr)
			if said := stderr.String(); !strings.Contains(said, test.said) || (code == Done) != (test.said == "") {
				t.Errorf("exit code %d, and said:\n%s", code, said)
			}
		})
	}
}

func pipe(path string) error   { return syscall.Mkfifo(path, 0o666) }
func device(path string) error { return os.Symlink("/dev/zero", path) }
func folder(path string) error { return os.Mkdir(path, 0o777) }

// huge is a file of holes, which takes up no room on the disk.
func huge(path string) error {
	if err := os.WriteFile(path, nil, 0o666); err != nil {
		return err
	}
	return os.Truncate(path, 1<<40)
}

// outside is a link to a file that is none of the kitchen's.
func outside(path string) error {
	target, err := filepath.Abs("../../testdata/problems/README.md")
	if err != nil {
		return err
	}
	return os.Symlink(target, path)
}

func plainKitchen(t *testing.T, folder string) {
	t.Helper()
	a, err := txtar.ParseFile("../../testdata/problems/none.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range a.Files {
		path := filepath.Join(folder, f.Name)
		if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, f.Data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

func appendTo(t *testing.T, path, text string) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, append(data, text...), 0o666); err != nil {
		t.Fatal(err)
	}
}

// TestHostileTheme: a theme may come with somebody else's kitchen.
func TestHostileTheme(t *testing.T) {
	for _, make := range []func(string) error{pipe, device, huge, outside} {
		content, theme := filepath.Join(t.TempDir(), "content"), t.TempDir()
		plainKitchen(t, content)
		if err := make(filepath.Join(theme, "home.html")); err != nil {
			t.Skip(err)
		}
		var stdout, stderr bytes.Buffer
		if code := Run([]string{"publish", "--content", content, "--theme", theme, "--out", filepath.Join(t.TempDir(), "site")}, &stdout, &stderr); code != CouldNotRun {
			t.Errorf("exit code %d, and said:\n%s", code, stderr.String())
		}
	}
}

// TestGatherStaysInside: what viewers sent is not written through a link that leads out.
func TestGatherStaysInside(t *testing.T) {
	content, elsewhere := filepath.Join(t.TempDir(), "content"), t.TempDir()
	plainKitchen(t, content)
	if err := os.Symlink(elsewhere, filepath.Join(content, "millet", "replications")); err != nil {
		t.Skip(err)
	}
	sent := filepath.Join(t.TempDir(), "sent.csv")
	if err := os.WriteFile(sent, []byte("sample,piece,boil,whole\nclosed,1,18:11,pass\nopen,1,20:00,fail\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	code := Run([]string{"gather", "millet", sent, "--content", content}, &stdout, &stderr)
	left, err := os.ReadDir(elsewhere)
	if code != CouldNotRun || err != nil || len(left) != 0 {
		t.Errorf("exit code %d, %d files elsewhere, and said:\n%s", code, len(left), stderr.String())
	}
}

// TestHostileSent: the files that gather and tasting are given may be anything.
func TestHostileSent(t *testing.T) {
	content := filepath.Join(t.TempDir(), "content")
	plainKitchen(t, content)
	for name, make := range map[string]func(string) error{"is not a file": pipe, "is larger than": huge} {
		sent := filepath.Join(t.TempDir(), "sent.csv")
		if err := make(sent); err != nil {
			t.Skip(err)
		}
		for _, command := range [][]string{{"gather", "millet", sent}, {"tasting", "millet", "--read", sent, "--key", sent}} {
			var stdout, stderr bytes.Buffer
			code := Run(append(command, "--content", content), &stdout, &stderr)
			if code != CouldNotRun || !strings.Contains(stderr.String(), name) {
				t.Errorf("%s: exit code %d, and said:\n%s", command[0], code, stderr.String())
			}
		}
	}
}

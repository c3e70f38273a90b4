package browser

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// remark is what the Nu HTML checker says about a place.
type remark struct {
	Type    string `json:"type"`    // info, error, non-document-error
	SubType string `json:"subType"` // warning, fatal
	URL     string `json:"url"`
	Line    int    `json:"lastLine"`
	Message string `json:"message"`
}

// nu runs the Nu HTML checker over HTML, CSS and SVG files of a folder and returns
// all that it says.
func nu(t *testing.T, folder string, files []string) []string {
	t.Helper()
	folder, err := filepath.Abs(folder)
	if err != nil {
		t.Fatal(err)
	}
	java, jar := program(t, "java"), checker(t, "vnu-jar/build/dist/vnu.jar")
	// The checker's parser is deeply recursive, so it needs a large stack.
	arguments := []string{"-Xss4m", "-jar", jar, "--format", "json", "--stdout", "--exit-zero-always", "--also-check-css", "--also-check-svg"}
	var said []string
	for some := range slices.Chunk(files, 500) { // a command line has its limits
		c := exec.CommandContext(t.Context(), java, slices.Concat(arguments, some)...)
		c.Dir = folder
		var stderr bytes.Buffer
		c.Stderr = &stderr
		out, err := c.Output()
		if err != nil {
			t.Fatalf("the checker failed: %v\n%s", err, stderr.String())
		}
		var all struct {
			Messages *[]remark `json:"messages"`
		}
		if err := json.Unmarshal(out, &all); err != nil || all.Messages == nil {
			t.Fatalf("the checker said what nobody understands: %v\n%s", err, out)
		}
		for _, r := range *all.Messages {
			place := filepath.ToSlash(strings.TrimPrefix(r.URL, "file:"+filepath.ToSlash(folder)+"/"))
			said = append(said, fmt.Sprintf("%s:%d: %s: %s", place, r.Line, strings.TrimSpace(r.Type+" "+r.SubType), r.Message))
		}
	}
	return said
}

// TestNu: the Nu HTML checker has nothing to say about any HTML, CSS or SVG of the
// demo, not even a warning.
func TestNu(t *testing.T) {
	asked(t)
	site := publish(t)
	files := site.of(".html", ".css", ".svg")
	for _, ending := range []string{".html", ".css", ".svg"} {
		if len(site.of(ending)) == 0 {
			t.Errorf("no file ends in %s", ending)
		}
	}
	for _, s := range nu(t, site.folder, files) {
		t.Error(s)
	}
}

// TestNuSpeaks: the checker finds what is wrong in each kind of file.
func TestNuSpeaks(t *testing.T) {
	asked(t)
	const page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>A page</title></head>\n<body>%s</body>\n</html>\n"
	bad := []struct{ name, text, want string }{
		{"good.html", fmt.Sprintf(page, "<p>Words.</p>"), ""},
		{"good.css", "p { color: red }\n", ""},
		{"good.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><path d="M0 0h1v1z"/></svg>`, ""},
		{"nested.html", fmt.Sprintf(page, "<p><a href=x><a href=y>z</a></a></p>"), "error"},
		{"doubled.html", fmt.Sprintf(page, `<p id="x">a</p><p id="x">b</p>`), "Duplicate ID"},
		{"slash.html", fmt.Sprintf(page, "<p>a<br/>b</p>"), "Trailing slash"},
		{"unknown.css", "p { colour: red }\n", "colour"},
		{"unknown.svg", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><path dd="M0 0h1v1z"/></svg>`, "dd"},
	}
	folder := t.TempDir()
	var files []string
	for _, b := range bad {
		if err := os.WriteFile(filepath.Join(folder, b.name), []byte(b.text), 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, b.name)
	}
	said := nu(t, folder, files)
	for _, b := range bad {
		about := strings.Join(slices.DeleteFunc(slices.Clone(said), func(s string) bool { return !strings.HasPrefix(s, b.name+":") }), "\n")
		if b.want == "" && about != "" || !strings.Contains(about, b.want) {
			t.Errorf("%s: want %q, got %q", b.name, b.want, about)
		}
	}
}

package site

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"
)

// linked reads the JSON-LD of a page: its things by type.
func linked(t *testing.T, page []byte) map[string]map[string]any {
	t.Helper()
	found := map[string]map[string]any{}
	for n := range parsed(t, page).Descendants() {
		if n.Data != "script" || attribute(n, "type") != "application/ld+json" {
			continue
		}
		var graph struct {
			Context string           `json:"@context"`
			Graph   []map[string]any `json:"@graph"`
		}
		if err := json.Unmarshal([]byte(n.FirstChild.Data), &graph); err != nil {
			t.Fatal(err)
		}
		if graph.Context != "https://schema.org" {
			t.Errorf("context %q", graph.Context)
		}
		for _, thing := range graph.Graph {
			found[thing["@type"].(string)] = thing
		}
	}
	return found
}

// TestLinkedData: what each page of a trial says it is, and that the files it names
// are there.
func TestLinkedData(t *testing.T) {
	everyKitchen(t, func(t *testing.T, files map[string][]byte) {
		root := base(t, files)
		for file, page := range files {
			if !strings.HasSuffix(file, "/data/"+resultsFile) {
				continue
			}
			slug, _, _ := strings.Cut(file, "/")
			at := map[string][]string{
				slug + "/index.html":        {"Article", "Dataset", "BreadcrumbList"},
				slug + "/recipe/index.html": {"Recipe", "BreadcrumbList"},
				slug + "/data/index.html":   {"Dataset", "BreadcrumbList"},
			}
			var r struct{ Title string }
			if err := json.Unmarshal(page, &r); err != nil {
				t.Fatal(err)
			}
			for page, want := range at {
				things := linked(t, files[page])
				for _, kind := range want {
					if things[kind] == nil {
						t.Errorf("%s is no %s, but %v", page, kind, slices.Sorted(maps.Keys(things)))
					}
				}
				checkDataset(t, root, page, things["Dataset"], files)
			}
			if got := linked(t, files[slug+"/index.html"])["Article"]["headline"]; got != r.Title {
				t.Errorf("headline %q, want %q", got, r.Title)
			}
			recipe := linked(t, files[slug+"/recipe/index.html"])["Recipe"]
			for _, property := range []string{"name", "author", "datePublished", "recipeIngredient"} {
				if recipe[property] == nil {
					t.Errorf("%s: the recipe has no %s", slug, property)
				}
			}
		}
	})
}

func checkDataset(t *testing.T, root, page string, dataset map[string]any, files map[string][]byte) {
	t.Helper()
	if dataset == nil {
		return
	}
	from := strings.TrimSuffix(page, "index.html")
	names := map[string]bool{}
	for _, d := range dataset["distribution"].([]any) {
		to := d.(map[string]any)["contentUrl"].(string)
		file := fileAt(t, root, from, to)
		names[file] = true
		if files[file] == nil {
			t.Errorf("%s: %q is not there", page, to)
		}
	}
	slug, _, _ := strings.Cut(page, "/")
	for file := range files {
		if strings.HasPrefix(file, slug+"/data/") && !strings.HasSuffix(file, ".html") && !names[file] {
			t.Errorf("%s: the data set leaves out %s", page, file)
		}
	}
}

// TestOddVideo: chapters that begin in one second are one, and end where the next
// begins.
func TestOddVideo(t *testing.T) {
	files := made(t, Content{FS: odd(""), Shown: "content"})
	video := linked(t, files["crème-brûlée/index.html"])["VideoObject"]
	got, err := json.Marshal(video["hasPart"])
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"@type":"Clip","endOffset":70,"name":"\u003cstart\u003e","startOffset":0,"url":"https://video.example/a?b=1\u0026c=2#t=0"},` +
		`{"@type":"Clip","name":"End","startOffset":70,"url":"https://video.example/a?b=1\u0026c=2#t=70"}]`
	if string(got) != want {
		t.Errorf("clips\n%s\nwant\n%s", got, want)
	}
}

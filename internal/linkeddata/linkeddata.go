// Package linkeddata writes what a page is about as JSON-LD in the vocabulary of
// schema.org: recipe, data set, trail of pages, video with its chapters, article.
//
// It is handed ready words and addresses and knows no trial. It uses types and
// properties of schema.org alone, leaves out what it was not given, and claims
// nothing that its caller did not say: no rating, no category, no date of its own.
// Addresses may be relative to the page that the data stand on, as JSON-LD has it.
package linkeddata

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// Thing is one of the types of this package.
type Thing interface {
	node() (node, error)
}

// node is a JSON object. encoding/json writes its names in the order of their
// letters, so that the same thing gives the same bytes.
type node map[string]any

// Page returns the JSON-LD of a page: its things in one graph. The bytes can stand
// in a script element as they are: <, >, & and the line ends of Unicode that are
// none in JavaScript are written as escapes.
func Page(things ...Thing) ([]byte, error) {
	graph := make([]node, 0, len(things))
	for _, thing := range things {
		n, err := thing.node()
		if err != nil {
			return nil, err
		}
		graph = append(graph, n)
	}
	if len(graph) == 0 {
		return nil, nil
	}
	return json.Marshal(node{"@context": "https://schema.org", "@graph": graph})
}

func typed(kind string) node { return node{"@type": kind} }

// set writes a property that has a value.
func (n node) set(property, value string) {
	if strings.TrimSpace(value) != "" {
		n[property] = value
	}
}

// list writes a property with several values, without the empty ones.
func (n node) list(property string, values []string) {
	var kept []string
	for _, value := range values {
		if strings.TrimSpace(value) != "" {
			kept = append(kept, value)
		}
	}
	if len(kept) > 0 {
		n[property] = kept
	}
}

// nodes writes a property whose values are things.
func (n node) nodes(property string, values []node) {
	if len(values) > 0 {
		n[property] = values
	}
}

// need returns an error when a thing lacks what it cannot do without.
func need(kind string, properties ...string) error {
	for i := 0; i+1 < len(properties); i += 2 {
		if strings.TrimSpace(properties[i+1]) == "" {
			return fmt.Errorf("linked data: %s without %s", kind, properties[i])
		}
	}
	return nil
}

// Maker is who made something: people, or where none are named the kitchen.
type Maker struct {
	People  []string
	Kitchen string // may be empty
}

func (m Maker) nodes() []node {
	var all []node
	for _, name := range m.People {
		if strings.TrimSpace(name) != "" {
			all = append(all, node{"@type": "Person", "name": name})
		}
	}
	if len(all) == 0 && strings.TrimSpace(m.Kitchen) != "" {
		all = append(all, node{"@type": "Organization", "name": m.Kitchen})
	}
	return all
}

// Crumb is one page on the way.
type Crumb struct {
	Name    string
	Address string
}

// Breadcrumbs is the way from the site's first page to this one, this one last.
// https://schema.org/BreadcrumbList
type Breadcrumbs []Crumb

func (b Breadcrumbs) node() (node, error) {
	if len(b) == 0 {
		return nil, fmt.Errorf("linked data: a BreadcrumbList without pages")
	}
	items := make([]node, 0, len(b))
	for i, crumb := range b {
		if err := need("ListItem", "name", crumb.Name); err != nil {
			return nil, err
		}
		item := typed("ListItem")
		item["position"] = i + 1
		item.set("name", crumb.Name)
		item.set("item", crumb.Address)
		items = append(items, item)
	}
	n := typed("BreadcrumbList")
	n.nodes("itemListElement", items)
	return n, nil
}

// Clip is a chapter of a video; Start and End are seconds from its beginning, and
// an End of 0 is not known.
type Clip struct {
	Name       string
	Start, End int
}

// Video is a recording. https://schema.org/VideoObject
type Video struct {
	ID          string
	Name        string
	Description string
	Address     string   // of the page or file it is seen on
	Thumbnails  []string // addresses of pictures
	Uploaded    string   // a day, where it is known
	Language    string
	Clips       []Clip
}

func (v Video) node() (node, error) {
	if err := need("VideoObject", "name", v.Name, "url", v.Address); err != nil {
		return nil, err
	}
	n := typed("VideoObject")
	n.set("@id", v.ID)
	n.set("name", v.Name)
	n.set("description", v.Description)
	n.set("url", v.Address)
	n.list("thumbnailUrl", v.Thumbnails)
	n.set("uploadDate", v.Uploaded)
	n.set("inLanguage", v.Language)
	var clips []node
	for _, c := range v.Clips {
		if c.Start < 0 || (c.End != 0 && c.End <= c.Start) {
			return nil, fmt.Errorf("linked data: the clip %q runs from %d s to %d s", c.Name, c.Start, c.End)
		}
		clip := typed("Clip")
		clip.set("name", c.Name)
		clip["startOffset"] = c.Start
		if c.End > 0 {
			clip["endOffset"] = c.End
		}
		clip.set("url", moment(v.Address, c.Start))
		clips = append(clips, clip)
	}
	n.nodes("hasPart", clips)
	return n, nil
}

// moment is the address of a moment of a video, as W3C Media Fragments URI 1.0 has
// it (section 4.2.1); an address that has a fragment of its own keeps that.
func moment(address string, seconds int) string {
	if strings.Contains(address, "#") {
		return address
	}
	return address + "#t=" + strconv.Itoa(seconds)
}

// Article is a write-up. https://schema.org/Article
type Article struct {
	ID          string
	Address     string
	Headline    string
	Description string
	By          Maker
	Publisher   string // the kitchen
	Published   string // a day
	Language    string
	Keywords    []string
	Images      []string
	Video       string // the id of the video on the same page
	About       []string
	Data        string // the id of the data set on the same page
}

func (a Article) node() (node, error) {
	if err := need("Article", "headline", a.Headline); err != nil {
		return nil, err
	}
	n := typed("Article")
	n.set("@id", a.ID)
	n.set("url", a.Address)
	n.set("headline", a.Headline)
	n.set("description", a.Description)
	n.nodes("author", a.By.nodes())
	n.nodes("publisher", Maker{Kitchen: a.Publisher}.nodes())
	n.set("datePublished", a.Published)
	n.set("inLanguage", a.Language)
	n.list("keywords", a.Keywords)
	n.list("image", a.Images)
	if a.Video != "" {
		n["video"] = node{"@id": a.Video}
	}
	if a.Data != "" {
		n["isBasedOn"] = node{"@id": a.Data}
	}
	var about []node
	for _, name := range a.About {
		about = append(about, node{"@type": "Thing", "name": name})
	}
	n.nodes("about", about)
	return n, nil
}

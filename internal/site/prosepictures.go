package site

import (
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/picture"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/prose"
	"sidebatch.example/sidebatch/internal/trial"
)

// photoScheme is that of a picture's place in the prose. A note cannot write it: there
// a picture has the address of its file.
const photoScheme = "photo"

// Picture places a picture of the trial, which is published with it. It implements
// prose.Pictures.
func (r *resolver) Picture(p prose.Picture) (string, error) {
	if isWhole(p.Dest) {
		return "", &prose.Wrong{Code: problem.BadAddress, What: "a picture from another host",
			Hint: "put it into the trial's photos folder: pages ask no other host for anything"}
	}
	file, _, _ := strings.Cut(p.Dest, "#")
	if plain, err := url.PathUnescape(file); err == nil {
		file = plain // a space may be written %20
	}
	file = path.Clean(file)
	if info, err := fs.Stat(r.site.content.FS, path.Join(r.entry.Trial.Slug, file)); !fs.ValidPath(file) || err != nil || !info.Mode().IsRegular() {
		return "", &prose.Wrong{
			Code: problem.BrokenLink,
			What: fmt.Sprintf("there is no picture %q beside the note", file),
			Hint: "pictures lie in the trial's photos folder, like photos/cool.jpg",
		}
	}
	inspected, err := r.site.inspectPhoto(r.entry.Trial.Slug, file)
	var wrong *picture.Wrong
	if errors.As(err, &wrong) {
		return "", &prose.Wrong{Code: problem.BadPicture, What: wrong.What, Hint: wrong.Hint}
	}
	if err != nil {
		return "", err
	}
	if !trial.Describes(p.Alt, file) {
		r.questions.Ask(p.Place, problem.NoAltText, "put what is to be seen between the brackets: ![A cake, torn at the fold](photos/torn.jpg)",
			"who cannot see %s learns nothing from it", file)
	}
	r.photos = append(r.photos, inspected)
	shown := page.Picture{Photo: inspected.view(whole, p.Alt), Caption: p.Title, Alone: p.Alone}
	placed := placed{scheme: photoScheme, name: file, picture: shown}
	r.placed = append(r.placed, placed)
	return placed.comment(len(r.placed) - 1), nil
}

package site

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"path"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/picture"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// Widths, in pixels, at which pictures are published: a sample's photo beside the
// others, under one crop of four to three, and a picture in the prose.
const (
	sampleWidth  = 800
	sampleHeight = 600
	proseWidth   = 1600
)

// photo is a picture of a trial that is fit to be published.
type photo struct {
	file   string // below the trial's folder
	name   string // of the published file, without size and ending
	ending string // ".jpg" or ".png"
	info   picture.Info
}

// published is a picture's file below the trial's page, at one of the uses above.
func (p photo) published(use string) string { return "photos/" + p.name + "-" + use + p.ending }

// inspectPhoto reads a picture file and checks that it is one.
func (s *Site) inspectPhoto(slug, file string) (photo, error) {
	data, err := fs.ReadFile(s.content.FS, path.Join(slug, file))
	if err != nil {
		return photo{}, &picture.Wrong{What: "cannot be read"}
	}
	info, err := picture.Inspect(file, data)
	if err != nil {
		return photo{}, err
	}
	format, err := picture.Becomes(data)
	if err != nil {
		return photo{}, err
	}
	sum := sha256.Sum256(data)
	base := strings.TrimSuffix(path.Base(file), path.Ext(file))
	return photo{
		file:   file,
		name:   addressable(base) + "-" + hex.EncodeToString(sum[:4]),
		ending: map[string]string{picture.JPEG: ".jpg", picture.PNG: ".png"}[format],
		info:   info,
	}, nil
}

// addressable keeps letters, digits and hyphens of a file's name.
func addressable(name string) string {
	kept := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			return r
		case r >= 'A' && r <= 'Z':
			return r - 'A' + 'a'
		}
		return '-'
	}, name)
	if kept = strings.Trim(kept, "-"); kept == "" {
		return "photo"
	}
	return kept
}

// samplePhotos inspects the photos that the note gives its samples.
func (s *Site) samplePhotos(e *Entry, problems *problem.List) {
	for _, p := range e.Trial.Photos {
		inspected, err := s.inspectPhoto(e.Trial.Slug, p.File)
		var wrong *picture.Wrong
		switch {
		case errors.As(err, &wrong):
			problems.Hinted(p.Place, problem.BadPicture, wrong.Hint, "%s: %s", p.File, wrong.What)
		case err != nil:
			problems.Errorf(p.Place, problem.BadPicture, "%s: %v", p.File, err)
		default:
			e.samplePhotos[p.Sample] = inspected
		}
	}
}

// samplePhoto is the picture of a sample on its write-up, or nil.
func (e *Entry) samplePhoto(s *trial.Sample) *page.Photo {
	p, ok := e.samplePhotos[s.Key]
	if !ok {
		return nil
	}
	return &page.Photo{Src: p.published("beside"), Alt: s.Name, Width: sampleWidth, Height: sampleHeight}
}

// photos adds the published pictures of a trial. Each is named by what is in it.
func (p *planner) photos(e *Entry, at string) {
	for _, s := range e.Samples {
		if photo, ok := e.samplePhotos[s.Key]; ok {
			p.once(at+photo.published("beside"), func() ([]byte, error) {
				return p.picture(e, photo, func(data []byte) (picture.Made, error) {
					return picture.MakeCropped(data, sampleWidth, sampleHeight)
				})
			})
		}
	}
	for _, photo := range e.account.photos {
		p.once(at+photo.published("large"), func() ([]byte, error) {
			return p.picture(e, photo, func(data []byte) (picture.Made, error) {
				return picture.Make(data, proseWidth)
			})
		})
	}
}

// once adds an output unless its path is there already: two samples may share a
// picture.
func (p *planner) once(path string, make func() ([]byte, error)) {
	for _, o := range p.outputs {
		if o.Path == path {
			return
		}
	}
	p.add(path, make)
}

func (p *planner) picture(e *Entry, photo photo, work func([]byte) (picture.Made, error)) ([]byte, error) {
	data, err := fs.ReadFile(p.content.FS, path.Join(e.Trial.Slug, photo.file))
	if err != nil {
		return nil, err
	}
	made, err := work(data)
	return made.Data, err
}

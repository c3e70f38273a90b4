package site

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"sidebatch.example/sidebatch/internal/page"
	"sidebatch.example/sidebatch/internal/picture"
	"sidebatch.example/sidebatch/internal/problem"
	"sidebatch.example/sidebatch/internal/trial"
)

// use is where a page shows a picture; it is part of the published file's name.
type use string

const (
	beside use = "beside-" // a sample's photo beside the others, all under one crop
	whole  use = ""        // a picture in the prose
)

// photo is a picture of a trial that is fit to be published.
type photo struct {
	file   string // below the trial's folder
	name   string // of the published files, without width and ending
	sum    Digest // of what is in the file
	ending string // ".jpg" or ".png"
	info   picture.Info
}

// sizes are those in which a picture is published, in pixels and rising: for a phone
// and for a fine screen, and in the prose for a column in between.
func (p photo) sizes(u use) []picture.Size {
	if u == beside {
		return picture.CroppedSizes(p.info, 4, 3, 400, 800)
	}
	return picture.Sizes(p.info, 480, 960, 1600)
}

// published is a picture's file of one size, below the trial's page.
func (p photo) published(u use, size picture.Size) string {
	return fmt.Sprintf("%s%s-%s%d%s", photosFolder, p.name, u, size.Width, p.ending)
}

// photosFolder is where they are published, below the trial's page.
const photosFolder = "photos/"

// largest is the widest file that is published for a use.
func (p photo) largest(u use) string {
	sizes := p.sizes(u)
	return p.published(u, sizes[len(sizes)-1])
}

// view is the picture as a page shows it. Where a browser cannot choose, it gets the
// file that suits a column.
func (p photo) view(u use, alt string) page.Photo {
	v := page.Photo{Alt: alt}
	var choices []string
	for _, size := range p.sizes(u) {
		file := p.published(u, size)
		choices = append(choices, fmt.Sprintf("%s %dw", file, size.Width))
		if v.Src == "" || size.Width <= 960 {
			v.Src = file
		}
		v.Width, v.Height = size.Width, size.Height
	}
	v.Srcset = strings.Join(choices, ", ")
	return v
}

// inspectPhoto reads a picture file and checks that it is one. Errors are of type
// *picture.Wrong.
func (s *reader) inspectPhoto(slug, file string) (photo, error) {
	data, err := readFile(s.content.FS, path.Join(slug, file))
	if err != nil {
		return photo{}, &picture.Wrong{What: file + " " + err.Error()}
	}
	sum := sha256.Sum256(data)
	return s.album.look(file+"\x00"+string(sum[:]), func() (photo, error) {
		info, format, err := s.album.darkroom.Check(file, data)
		if err != nil {
			return photo{}, err
		}
		base := strings.TrimSuffix(path.Base(file), path.Ext(file))
		return photo{
			file:   file,
			name:   addressable(base) + "-" + hex.EncodeToString(sum[:4]),
			sum:    Digest(sum[:len(Digest{})]),
			ending: map[string]string{picture.JPEG: ".jpg", picture.PNG: ".png"}[format],
			info:   info,
		}, nil
	})
}

// readFile reads a file of the kitchen that is no larger than a picture may be.
func readFile(fsys fs.FS, name string) ([]byte, error) {
	return trial.ReadFile(fsys, name, picture.MaxBytes)
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
func (s *reader) samplePhotos(e *Entry, problems *problem.List) {
	for _, p := range e.Trial.Photos {
		inspected, err := s.inspectPhoto(e.Trial.Slug, p.File)
		var wrong *picture.Wrong
		switch {
		case errors.As(err, &wrong):
			problems.Hinted(p.Place, problem.BadPicture, wrong.Hint, "%s", wrong.What)
		case err != nil:
			problems.Errorf(p.Place, problem.BadPicture, "%s: %v", p.File, err)
		default:
			e.samplePhotos[p.Sample] = inspected
		}
	}
}

// samplePhoto is the picture of a sample on its write-up, or nil. One that nobody
// described goes by the sample's name.
func (e *Entry) samplePhoto(s *trial.Sample) *page.Photo {
	p, ok := e.samplePhotos[s.Key]
	if !ok {
		return nil
	}
	alt := s.Name
	for _, noted := range e.Trial.Photos {
		if noted.Sample == s.Key && noted.Shows != "" {
			alt = noted.Shows
		}
	}
	v := p.view(beside, alt)
	return &v
}

// photos adds the published pictures of a trial, each file once: two samples may
// share a picture, and the prose may show one twice.
func (p *trialFiles) photos(e *Entry, at string) {
	added := map[string]bool{}
	add := func(photo photo, u use) {
		for _, size := range photo.sizes(u) {
			file := photo.published(u, size)
			if added[file] {
				continue
			}
			added[file] = true
			p.add(at+file, func() ([]byte, error) { return p.picture(e, photo, u, size) })
		}
	}
	for _, s := range e.Samples {
		if photo, ok := e.samplePhotos[s.Key]; ok {
			add(photo, beside)
		}
	}
	for _, photo := range e.account.photos {
		add(photo, whole)
	}
}

// photosFrom stands for the pictures that photos publishes, as they lie in the kitchen.
func (e *Entry) photosFrom() Digest {
	var texts []string
	for _, s := range e.Samples {
		if photo, ok := e.samplePhotos[s.Key]; ok {
			texts = append(texts, photo.file, photo.sum.text())
		}
	}
	for _, photo := range e.account.photos {
		texts = append(texts, photo.file, photo.sum.text())
	}
	return digestOf(texts...)
}

func (p *binding) picture(e *Entry, photo photo, u use, size picture.Size) ([]byte, error) {
	data, err := readFile(p.content.FS, path.Join(e.Trial.Slug, photo.file))
	if err != nil {
		return nil, err
	}
	var made picture.Made
	if u == beside {
		made, err = p.album.darkroom.MakeCropped(data, size.Width, size.Height)
	} else {
		made, err = p.album.darkroom.Make(data, size.Width)
	}
	return made.Data, err
}

// Package cache keeps named blobs from one run of the program to the next, in a folder of
// its own. Nothing depends on them but time: a blob may be deleted, cut short or garbled, and
// the whole folder removed, at any moment, and then it reads as not there.
//
// A blob is read whole and checked before a byte of it is handed on. The sum is CRC-32C over
// blocks of 64 kB, each with a sum of its own, and one over the sums and the head. Machines
// compute it at the speed of memory, so that 20 MB cost a few milliseconds; a block garbled
// by chance passes once in four thousand million times, and any error within 32 bits never.
// Against somebody who means to deceive it does nothing: whoever can write here can write
// into the site as well.
//
// It refuses to follow a link, to hold a blob of more than a gigabyte, and to delete or
// replace anything but its own blobs. It promises nothing for a power cut, and needs not to:
// what was lost reads as not there.
package cache

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"
)

// most is the size of the largest blob, in bytes.
const most = 1 << 30

// The names of files in the folder. A blob in the making has the other ending.
const (
	blobEnd = ".blob"
	partEnd = ".part"
)

var (
	errName  = errors.New("no name of a blob (lower-case letters, digits and dashes)")
	errLarge = errors.New("too large to be kept")
	errPlace = errors.New("in the way of what is kept from run to run (move it elsewhere or delete it)")
)

// Cache is the blobs in one folder. The zero value holds nothing and takes nothing.
type Cache struct {
	dir string
}

// At returns the cache in a folder, which need not be there. The folder that it lies in
// must be, before something is written.
func At(dir string) Cache { return Cache{dir} }

// Read returns a blob as it was written, or says that there is none.
func (c Cache) Read(name string) (data string, ok bool) {
	data, _, ok = c.ReadDated(name)
	return data, ok
}

// ReadDated also returns when the blob was written, by the clock of the file system.
func (c Cache) ReadDated(name string) (data string, at time.Time, ok bool) {
	root, err := c.open()
	if err != nil || !goodName(name) {
		return "", at, false
	}
	defer root.Close()
	if !isFile(root, name+blobEnd) {
		return "", at, false
	}
	file, err := root.Open(name + blobEnd)
	if err != nil {
		return "", at, false
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return "", at, false
	}
	if data, err = unwrap(file, name, info.Size()); err != nil {
		return "", at, false
	}
	return data, info.ModTime(), true
}

// Write keeps a blob, made of the parts one after the other, in the place of what was kept
// under that name. After an error the old blob may be there or not.
func (c Cache) Write(name string, parts ...string) error {
	if err := c.write(name, parts); err != nil {
		return fmt.Errorf("keeping %q in %s: %w", name, c.dir, err)
	}
	return nil
}

func (c Cache) write(name string, parts []string) error {
	if !goodName(name) {
		return errName
	}
	size := 0
	for _, p := range parts {
		size += len(p)
	}
	if size > most {
		return errLarge
	}
	if err := os.Mkdir(c.dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return bare(err)
	}
	root, err := c.open()
	if err != nil {
		return err
	}
	defer root.Close()
	for _, own := range []string{name + partEnd, name + blobEnd} {
		if info, err := root.Lstat(own); err == nil && !info.Mode().IsRegular() {
			return fmt.Errorf("%s: %w", own, errPlace)
		}
	}
	if err := root.Remove(name + partEnd); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return bare(err)
	}
	file, err := root.OpenFile(name+partEnd, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return bare(err)
	}
	err = wrap(file, name, parts)
	if err = errors.Join(err, file.Close()); err == nil {
		err = root.Rename(name+partEnd, name+blobEnd)
	}
	if err != nil {
		_ = root.Remove(name + partEnd) // it is of no use, and the next Write would remove it too
		return bare(err)
	}
	return nil
}

// Forget removes all blobs, and the folder if nothing else is in it.
func (c Cache) Forget() error {
	root, err := c.open()
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		return fmt.Errorf("%s: %w", c.dir, err)
	}
	defer root.Close()
	entries, err := fs.ReadDir(root.FS(), ".")
	errs := []error{err}
	for _, e := range entries {
		name := e.Name()
		ours := goodName(strings.TrimSuffix(name, blobEnd)) || goodName(strings.TrimSuffix(name, partEnd))
		if ours && strings.Contains(name, ".") && e.Type().IsRegular() {
			errs = append(errs, bare(root.Remove(name)))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return fmt.Errorf("%s: %w", c.dir, err)
	}
	_ = os.Remove(c.dir) // stays where something else is in it
	return nil
}

// open opens the folder, unless a link or something else stands in its place.
func (c Cache) open() (*os.Root, error) {
	info, err := os.Lstat(c.dir)
	if err != nil {
		return nil, bare(err)
	}
	if !info.IsDir() {
		return nil, errPlace
	}
	root, err := os.OpenRoot(c.dir)
	if err != nil {
		return nil, bare(err)
	}
	if opened, err := root.Stat("."); err != nil || !os.SameFile(info, opened) {
		_ = root.Close() // it was open for nothing yet
		return nil, errPlace
	}
	return root, nil
}

func isFile(root *os.Root, name string) bool {
	info, err := root.Lstat(name)
	return err == nil && info.Mode().IsRegular()
}

// goodName holds for names that every file system takes and keeps apart.
func goodName(name string) bool {
	other := func(r rune) bool { return r != '-' && (r < '0' || r > '9') && (r < 'a' || r > 'z') }
	return name != "" && len(name) <= 64 && !strings.ContainsFunc(name, other)
}

// bare drops the path from an error of package os: the message around it names the folder.
func bare(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// Open opens a blob of which only some is to be read. It must be closed.
func (c Cache) Open(name string) (*Blob, bool) {
	root, err := c.open()
	if err != nil || !goodName(name) {
		return nil, false
	}
	defer root.Close()
	if !isFile(root, name+blobEnd) {
		return nil, false
	}
	file, err := root.Open(name + blobEnd)
	if err != nil {
		return nil, false
	}
	b, err := openBlob(file, name)
	if err != nil {
		_ = file.Close() // it was open for reading
		return nil, false
	}
	return b, true
}

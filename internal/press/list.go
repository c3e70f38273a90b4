package press

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
)

// ErrForeign says that something is in the way that sidebatch did not write, or
// that somebody changed after it did.
var ErrForeign = errors.New("not written by sidebatch")

// digest is the SHA-256 of a file. The zero digest stands for no file.
type digest [sha256.Size]byte

func (d digest) String() string { return hex.EncodeToString(d[:]) }

func parseDigest(s string) (d digest, err error) {
	raw, err := hex.DecodeString(s)
	if err == nil && len(raw) != len(d) {
		err = errors.New("a checksum of the wrong length")
	}
	copy(d[:], raw)
	return d, err
}

// listHead explains the list to whoever finds it. sha256sum --check skips the
// lines that begin with a number sign.
const listHead = "# The files in this folder that sidebatch wrote. It replaces and removes these and no others.\n"

// listLimit bounds the list read into memory: a hundred thousand files fit well.
const listLimit = 64 << 20

// list holds the files that an earlier run wrote, by path.
type list map[string]digest

func (l list) bytes() []byte {
	var b bytes.Buffer
	b.WriteString(listHead)
	for _, path := range slices.Sorted(maps.Keys(l)) {
		fmt.Fprintf(&b, "%s  %s\n", l[path], path)
	}
	return b.Bytes()
}

// parseList reads what list.bytes writes. It takes no path that could lead out
// of the folder or at the program's own files, whoever wrote the text.
func parseList(text []byte) (list, error) {
	owned := make(list)
	n := 0
	for line := range strings.Lines(string(text)) {
		n++
		if strings.HasPrefix(line, "#") {
			continue
		}
		sum, path, found := strings.Cut(strings.TrimRight(line, "\r\n"), "  ")
		d, err := parseDigest(sum)
		if err == nil {
			err = checkPath(path)
		}
		if _, doubled := owned[path]; !found || err != nil || doubled {
			return nil, fmt.Errorf("line %d is not a checksum and a path of this folder", n)
		}
		owned[path] = d
	}
	return owned, nil
}

// readList returns what sidebatch wrote into the folder, or refuses the folder
// where it has content and no list. Names that begin with a dot are no content.
func (f *folder) readList() (list, error) {
	text, err := f.readSmall(listName)
	if errors.Is(err, fs.ErrNotExist) {
		return list{}, f.refuseContent()
	}
	if err != nil {
		return nil, fmt.Errorf("%s/%s: %w", f.out, listName, bare(err))
	}
	owned, err := parseList(text)
	if err != nil {
		return nil, fmt.Errorf("%s/%s: %w (restore it, or empty the folder and publish again)", f.out, listName, err)
	}
	return owned, nil
}

func (f *folder) readSmall(name string) ([]byte, error) {
	file, err := f.site.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, listLimit+1))
	if err == nil && len(text) > listLimit {
		err = errors.New("too large")
	}
	return text, err
}

func (f *folder) refuseContent() error {
	entries, err := fs.ReadDir(f.site.FS(), ".")
	if err != nil {
		return fmt.Errorf("%s: %w", f.out, bare(err))
	}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			return fmt.Errorf("%s: %w: the folder holds %s and no list of files that sidebatch wrote "+
				"(give the site a folder of its own, or empty this one if nothing in it is needed)", f.out, ErrForeign, e.Name())
		}
	}
	return nil
}

// sum returns the checksum of a file of the site, and the zero digest where there
// is no file: nothing, or a folder.
func (f *folder) sum(path string) (digest, error) {
	info, err := f.lstat(path)
	if err != nil || info == nil || !info.Mode().IsRegular() {
		return digest{}, err
	}
	file, err := f.site.Open(path)
	if err == nil {
		defer file.Close()
		h := sha256.New()
		if _, err = io.Copy(h, file); err == nil {
			return digest(h.Sum(nil)), nil
		}
	}
	return digest{}, fmt.Errorf("%s/%s: %w", f.out, path, bare(err))
}

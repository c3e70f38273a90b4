package press

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
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

// listLimit bounds the list read into memory: half a million files fit.
const listLimit = 64 << 20

// list holds the files that an earlier run wrote, sorted by path.
type list struct {
	paths
	sums  string // of each file, one after the other
	rows  *table // which has them in their place, file i that of row i; nil where sums has them
	asIs  bool   // its text is as press writes it
	sum   digest // of its text; zero where there is no list
	stamp stamp  // of its file, where it was believed for that and not read; else zero
}

// sumOf is the checksum of a file.
func (l *list) sumOf(i int) digest {
	if l.rows != nil {
		return l.rows.sumOf(i)
	}
	return sumAt(l.sums[i*sha256.Size:])
}

// ofRows tells whether the list is that of a table.
func (l *list) ofRows() bool { return l.rows != nil }

func (l *list) has(path string) bool {
	_, is := l.find(path)
	return is
}

// sumWidth is what stands before the path in a line of the list.
const sumWidth = 2*sha256.Size + len("  ")

// listed is a line of the list.
type listed struct {
	path string
	sum  digest
}

// listOf is the list of files in their order.
func listOf(files []listed) *list {
	var all pathsText
	var sums strings.Builder
	for _, f := range files {
		all.add(f.path)
		sums.Write(f.sum[:])
	}
	return &list{paths: all.paths(), sums: sums.String()}
}

// parseList reads what writeList writes. It takes no path that could lead out
// of the folder or at the program's own files, whoever wrote the text.
func parseList(text []byte) (*list, error) {
	asIs := bytes.HasPrefix(text, []byte(listHead))
	files := make([]listed, 0, bytes.Count(text, []byte("\n")))
	var lines []int // of the files, for the message
	sorted := true
	for n, rest := 1, string(text); rest != ""; n++ {
		line, after, ended := strings.Cut(rest, "\n")
		rest = after
		if strings.HasPrefix(line, "#") {
			asIs = asIs && n == 1
			continue
		}
		f, plain := parseListed(line)
		if f.path == "" {
			return nil, badLine(n)
		}
		asIs = asIs && plain && ended
		if last := len(files) - 1; last >= 0 && files[last].path >= f.path {
			sorted = false
		}
		files, lines = append(files, f), append(lines, n)
	}
	if !sorted {
		asIs = false
		if err := sortListed(files, lines); err != nil {
			return nil, err
		}
	}
	l := listOf(files)
	l.asIs, l.sum = asIs, sumOfList(text)
	return l, nil
}

func badLine(n int) error {
	return fmt.Errorf("line %d is not a checksum and a path of this folder", n)
}

// parseListed reads a line without its end. The path is "" where it is no such
// line; plain says that it is written as writeList writes it.
func parseListed(line string) (f listed, plain bool) {
	trimmed := strings.TrimRight(line, "\r")
	if len(trimmed) <= sumWidth || trimmed[2*sha256.Size:sumWidth] != "  " {
		return listed{}, false
	}
	if !parseSum(&f.sum, trimmed[:2*sha256.Size]) {
		var err error
		if f.sum, err = parseDigest(trimmed[:2*sha256.Size]); err != nil {
			return listed{}, false
		}
		line = "" // in other letters
	}
	if checkPath(trimmed[sumWidth:]) != nil {
		return listed{}, false
	}
	f.path = trimmed[sumWidth:]
	return f, len(trimmed) == len(line)
}

// parseSum reads a checksum in small letters.
func parseSum(sum *digest, text string) bool {
	bad := byte(0)
	for i := range sum {
		high, low := nibble(text[2*i]), nibble(text[2*i+1])
		bad |= high | low
		sum[i] = high<<4 | low&15
	}
	return bad < 16
}

// nibble is at least 16 for what is no digit.
func nibble(b byte) byte {
	if d := b - '0'; d < 10 {
		return d
	}
	if d := b - 'a'; d < 6 {
		return d + 10
	}
	return 0x80
}

// sortListed puts files in order that came in another one, and finds one named twice.
func sortListed(files []listed, lines []int) error {
	order := make([]int, len(files))
	for i := range order {
		order[i] = i
	}
	came := slices.Clone(files)
	slices.SortStableFunc(order, func(a, b int) int { return strings.Compare(came[a].path, came[b].path) })
	doubled := 0
	for i, at := range order {
		files[i] = came[at]
		if i > 0 && files[i-1].path == files[i].path && (doubled == 0 || lines[at] < doubled) {
			doubled = lines[at]
		}
	}
	if doubled > 0 {
		return badLine(doubled)
	}
	return nil
}

// readList returns what sidebatch wrote into the folder, or refuses the folder
// where it has content and no list. Names that begin with a dot are no content. A list with
// the stamp or the checksum that the table has for it is what the table says.
func (f *folder) readList(t *table) (*list, error) {
	if it, err := f.look(listName); err == nil && it.is == aFile && t.isListLeft(it.stamp) {
		l := t.list()
		l.stamp = it.stamp
		return l, nil
	}
	text, err := f.readSmall(listName)
	if errors.Is(err, fs.ErrNotExist) {
		return &list{}, f.refuseContent()
	}
	if err != nil {
		return nil, fmt.Errorf("%s/%s: %w", f.out, listName, bare(err))
	}
	if t.len() > 0 && sumOfList(text) == t.sum {
		return t.list(), nil
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
	var text bytes.Buffer
	if info, err := file.Stat(); err == nil && info.Size() < listLimit {
		text.Grow(int(info.Size()) + bytes.MinRead)
	}
	_, err = text.ReadFrom(io.LimitReader(file, listLimit+1))
	if err == nil && text.Len() > listLimit {
		err = errors.New("too large")
	}
	return text.Bytes(), err
}

// refuseForeign refuses a folder that has content and no list.
func (f *folder) refuseForeign() error {
	if it, err := f.look(listName); err != nil || it.is != absent {
		return nil // which is told when the list is read
	}
	return f.refuseContent()
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
	all := sha256.New()
	if there, err := f.copyTo(all, path); !there || err != nil {
		return digest{}, err
	}
	return digest(all.Sum(nil)), nil
}

// listSum returns the checksum of the list in the site folder, and the zero digest where
// there is none.
func (f *folder) listSum() (digest, error) {
	all := newListSum()
	if there, err := f.copyTo(all, listName); !there || err != nil {
		return digest{}, err
	}
	return all.sum(), nil
}

// copyTo writes what a file of the site holds, if there is one.
func (f *folder) copyTo(to io.Writer, path string) (there bool, err error) {
	it, err := f.look(path)
	if err != nil || it.is != aFile {
		return false, err
	}
	file, err := f.site.Open(path)
	if err == nil {
		defer file.Close()
		if _, err = io.Copy(to, file); err == nil {
			return true, nil
		}
	}
	return false, fmt.Errorf("%s/%s: %w", f.out, path, bare(err))
}

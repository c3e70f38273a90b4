package tabular

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"sidebatch.example/sidebatch/internal/problem"
)

// The limits of a workbook, so that a small file cannot unpack into a large one.
const (
	mostUnpacked = 64 << 20 // bytes, all parts together
	mostStyles   = 4 << 20  // of the parts that the library turns into values at once
	mostParts    = 1000
	mostSheets   = 50
	mostStrings  = 1_000_000 // texts that cells share
	mostNested   = 50        // elements inside one another, in a text
)

// errors of a workbook, in words for the author.
var (
	errBroken = errors.New("is no workbook that can be read: it is broken, or another kind of file under this name")
	errLarge  = fmt.Errorf("is larger than a log can be: more than %d MB unpacked, %d parts, or %d cells", mostUnpacked>>20, mostParts, mostCells)
	errLocked = errors.New("is locked with a password, or is a workbook of the old kind")
	errSheets = fmt.Errorf("has more than %d sheets", mostSheets)
	errEmpty  = errors.New("has no sheet with cells")
)

// readWorkbook reads one sheet of a workbook: the one of the wanted name, or the
// first that is not hidden. Hidden rows and columns are read like others, since a
// filter that hides a row does not set it aside. Of a formula the result counts that
// the workbook was saved with.
func readWorkbook(data []byte, w Wanted) Table {
	b, err := openBook(data)
	if err != nil {
		w.unreadable(err)
		return Table{Form: Workbook}
	}
	part, err := b.sheet(w.Sheet)
	if err != nil {
		w.unreadable(err)
		return Table{Form: Workbook}
	}
	s := sheetReader{Wanted: w, book: b}
	records, err := s.read(part)
	if err != nil {
		w.unreadable(err)
		return Table{Form: Workbook}
	}
	at := w.headingAt(records)
	switch {
	case len(records) == 0:
		w.Problems.Errorf(problem.Pos{File: w.File}, problem.EmptyFile, "the sheet is empty")
		return Table{Form: Workbook}
	case at < 0:
		w.noHeading()
		return Table{Form: Workbook}
	}
	s.merged(records[at][0].Place.Line)
	return w.assemble(Workbook, records[at:])
}

func (w Wanted) unreadable(err error) {
	hint := "open it in a spreadsheet and save it as .xlsx again, or as CSV"
	if errors.Is(err, errLocked) {
		hint = "save it as .xlsx without a password, or as CSV"
	}
	w.Problems.Hinted(problem.Pos{File: w.File}, problem.BadWorkbook, hint, "%v", err)
}

// book is an opened workbook. The library finds its parts, names and styles.
type book struct {
	file      *excelize.File
	shared    []string // texts that cells refer to by number
	kinds     []numberKind
	since1904 bool
}

// openBook opens a workbook in memory. A fault of the library on a crafted file is
// an error like any other.
func openBook(data []byte) (b *book, err error) {
	defer func() {
		if recover() != nil {
			b, err = nil, errBroken
		}
	}()
	if err := checkParts(data); err != nil {
		return nil, err
	}
	file, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		// With the two alike nothing is ever unpacked into a file.
		UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked,
	})
	if err != nil {
		return nil, errBroken
	}
	b = &book{file: file}
	if file.WorkBook == nil {
		return nil, errBroken
	}
	if p := file.WorkBook.WorkbookPr; p != nil {
		b.since1904 = p.Date1904
	}
	b.kinds = b.numberKinds()
	b.shared, err = sharedTexts(b.part("xl/sharedStrings.xml"))
	return b, err
}

// checkParts holds a workbook against the limits before anything is unpacked, and
// its parts against their checksums, which the library does not.
func checkParts(data []byte) error {
	if bytes.HasPrefix(data, []byte{0xd0, 0xcf, 0x11, 0xe0}) { // Compound File Binary: MS-CFB 2.2
		return errLocked
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return errBroken
	}
	if len(data) > MostBytes || len(archive.File) > mostParts {
		return errLarge
	}
	total := uint64(0)
	for _, f := range archive.File {
		total += min(f.UncompressedSize64, mostUnpacked+1)
		isSheet := strings.HasPrefix(strings.ToLower(f.Name), "xl/worksheets/") || strings.EqualFold(f.Name, "xl/sharedStrings.xml")
		isXML := strings.HasSuffix(strings.ToLower(f.Name), ".xml") || strings.HasSuffix(strings.ToLower(f.Name), ".rels")
		if total > mostUnpacked || isXML && !isSheet && f.UncompressedSize64 > mostStyles {
			return errLarge
		}
	}
	for _, f := range archive.File {
		in, err := f.Open()
		if err != nil {
			return errBroken
		}
		_, err = io.Copy(io.Discard, in)
		if err != nil {
			return errBroken
		}
	}
	return nil
}

// part returns a part of the package by its name, in any letter case.
func (b *book) part(name string) []byte {
	if data, ok := b.file.Pkg.Load(name); ok {
		return data.([]byte)
	}
	var found []byte
	b.file.Pkg.Range(func(key, data any) bool {
		if strings.EqualFold(key.(string), name) {
			found = data.([]byte)
		}
		return found == nil
	})
	return found
}

// sheet returns the part of the sheet that is to be read.
func (b *book) sheet(name string) (part []byte, err error) {
	sheets := b.file.WorkBook.Sheets.Sheet
	if len(sheets) > mostSheets {
		return nil, errSheets
	}
	first := ""
	for _, s := range sheets {
		switch {
		case name != "" && strings.EqualFold(s.Name, name):
			return b.sheetPart(s.ID)
		case first == "" && (s.State == "" || s.State == "visible"):
			first = s.ID
		}
	}
	if first == "" {
		return nil, errEmpty
	}
	return b.sheetPart(first)
}

// sheetPart follows the relationship of a sheet to its part.
func (b *book) sheetPart(id string) ([]byte, error) {
	var all struct {
		Relationship []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		}
	}
	if err := xml.Unmarshal(b.part("xl/_rels/workbook.xml.rels"), &all); err != nil {
		return nil, errBroken
	}
	for _, r := range all.Relationship {
		if r.ID != id {
			continue
		}
		target := path.Join("xl", r.Target)
		if strings.HasPrefix(r.Target, "/") {
			target = strings.TrimPrefix(path.Clean(r.Target), "/")
		}
		if part := b.part(target); len(part) > 0 {
			return part, nil
		}
	}
	return nil, errEmpty
}

// sharedTexts reads the texts that cells share. Of one with several looks the runs
// are put together; how a word is to be pronounced is left out.
func sharedTexts(part []byte) ([]string, error) {
	in := xml.NewDecoder(bytes.NewReader(part))
	var all []string
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return all, nil
		}
		if err != nil {
			return nil, errBroken
		}
		start, is := token.(xml.StartElement)
		if !is || start.Name.Local != "si" {
			continue
		}
		if len(all) == mostStrings {
			return nil, errLarge
		}
		text, err := richText(in)
		if err != nil {
			return nil, errBroken
		}
		all = append(all, within(text))
	}
}

// richText reads to the end of the element that the decoder is in, and returns what
// stands in its texts.
func richText(in *xml.Decoder) (string, error) {
	var b strings.Builder
	var open []string
	for {
		token, err := in.Token()
		if err != nil {
			return "", err
		}
		switch t := token.(type) {
		case xml.StartElement:
			if len(open) == mostNested {
				return "", errBroken
			}
			open = append(open, t.Name.Local)
		case xml.EndElement:
			if len(open) == 0 {
				return b.String(), nil
			}
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 && open[len(open)-1] == "t" && !slices.Contains(open, "rPh") {
				b.Write(t)
			}
		}
	}
}

// within cuts a text that is longer than a cell may be, so far beyond the limit that it
// is still reported: many cells may share one text, and each is a copy once its line ends
// are unified.
func within(text string) string {
	const most = 4 * (mostRunes + 1) // a rune has four bytes at most
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "")
}

package tabular

import (
	"bytes"
	"unicode"
	"unicode/utf8"

	utf16 "golang.org/x/text/encoding/unicode"

	"sidebatch.example/sidebatch/internal/problem"
)

// Text checks and unifies the bytes of a text file: UTF-8 without byte-order marks,
// line feeds only, no control character and none that turns the direction of text. What is wrong is reported, and then ok is false.
func Text(data []byte, shown string, problems *problem.List) (text []byte, ok bool) {
	// Files put together from two have a mark in the middle as well. It does not show, and as
	// a space of no width it is out of use (The Unicode Standard, section 23.8; from memory).
	data = bytes.ReplaceAll(data, []byte("\ufeff"), nil)
	if at := notText(data); at >= 0 {
		place := position(shown, data, at)
		switch r, size := utf8.DecodeRune(data[at:]); {
		case r == 0:
			problems.Hinted(place, problem.NotText, "save it as UTF-8 text", "a NUL byte: this is not a text file")
		case r == utf8.RuneError && size <= 1:
			problems.Hinted(place, problem.NotText, "save it as UTF-8", "a byte that is not UTF-8")
		default:
			problems.Hinted(place, problem.NotText, "delete it; it does not show", "the control character %U", r)
		}
		return nil, false
	}
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	if len(bytes.TrimSpace(data)) == 0 {
		problems.Errorf(problem.Pos{File: shown}, problem.EmptyFile, "the file is empty")
		return nil, false
	}
	return data, true
}

// notText returns where the bytes stop being text, or -1.
func notText(data []byte) int {
	for at := 0; at < len(data); {
		if data[at] == 0 {
			return at
		}
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size <= 1 || IsHidden(r) {
			return at
		}
		at += size
	}
	return -1
}

// position turns a byte offset into a place.
func position(file string, data []byte, at int) problem.Pos {
	before := data[:at]
	line := bytes.Count(before, []byte("\n")) + 1
	start := bytes.LastIndexByte(before, '\n') + 1
	return problem.Pos{File: file, Line: line, Column: utf8.RuneCount(before[start:]) + 1}
}

// fromUTF16 turns UTF-16 with a byte-order mark, which spreadsheets call Unicode
// text, into UTF-8; other bytes stay as they are.
func fromUTF16(data []byte) []byte {
	if !bytes.HasPrefix(data, []byte{0xff, 0xfe}) && !bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return data
	}
	text, err := utf16.UTF16(utf16.LittleEndian, utf16.ExpectBOM).NewDecoder().Bytes(data)
	if err != nil || bytes.ContainsRune(text, utf8.RuneError) {
		return data // broken: Text says where it stops being text
	}
	return text
}

// IsHidden reports whether a character has no place in the text of a file: one that does
// something instead of being seen, other than a tab and the end of a line.
func IsHidden(r rune) bool {
	return unicode.IsControl(r) && r != '\t' && r != '\n' && r != '\r' || problem.Turns(r)
}

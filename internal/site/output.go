package site

// Output is one file of the site.
type Output struct {
	Path string                 // below the site folder, forward slashes, e.g. "rye/index.html"
	Make func() ([]byte, error) // pure: same bytes whenever it is called; may run on any goroutine

	// From is a digest of all that the bytes are made from, the program and the theme too:
	// with the same From under the same path, Make returns the same bytes in any run. The
	// zero digest says that it is not known; such an output is made in every run.
	From Digest
}

// Digest stands for what something is made from. Two that are equal by chance do not
// happen: it is cut from a cryptographic hash.
type Digest [16]byte

// Lot is outputs that come and go together: one file, or all that lies below a folder. A large
// site has many times as many files as lots, and in most runs most of them need not be listed.
type Lot struct {
	At   string          // the path of the file, or that of the folder with a slash at the end
	List func() []Output // the files, in the order of their paths; pure, and quick, for it makes none of them

	// From is a digest of which files there are and what each is made from: with the same
	// From at the same place, List returns the same paths with the same From, none of which is
	// zero. The zero digest says that it is not known.
	From Digest
}

// LotOf is one output as a lot.
func LotOf(o Output) Lot {
	return Lot{At: o.Path, From: o.From, List: func() []Output { return []Output{o} }}
}

// Lots are outputs as lots, each on its own.
func Lots(outputs []Output) []Lot {
	lots := make([]Lot, len(outputs))
	for i, o := range outputs {
		lots[i] = LotOf(o)
	}
	return lots
}

// All are the outputs of lots, those of each after those of the one before.
func All(lots []Lot) []Output {
	var all []Output
	for _, lot := range lots {
		all = append(all, lot.List()...)
	}
	return all
}

package press

// stamp is what a file system says of a file without reading it. A file with
// another stamp may have changed.
type stamp struct {
	size    int64
	written int64 // when its content last changed, in nanoseconds of the file system's clock
	changed int64 // when anything about it last changed, which no program can set; 0 where not told
	number  uint64
}

// thing is what stands at a place of the site folder.
type thing struct {
	is    kind
	stamp stamp // of a file
}

type kind uint8

const (
	absent kind = iota
	aFile
	aFolder
	another // a link, a device
)

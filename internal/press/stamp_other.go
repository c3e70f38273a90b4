//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package press

import "os"

// look says what stands at a place; a link is looked at itself.
func (f *folder) look(p string) (thing, error) { return f.lookSlowly(p) }

// stampOf returns the stamp of an open file.
func stampOf(file *os.File) (stamp, error) {
	info, err := file.Stat()
	if err != nil {
		return stamp{}, err
	}
	return thingFrom(info).stamp, nil
}

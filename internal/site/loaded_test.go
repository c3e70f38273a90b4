package site

import "sidebatch.example/sidebatch/internal/problem"

// Load reads a kitchen as Survey does, but keeps all trials in memory, where tests look at
// them. It comes to the same in another order: all are read before the prose of any is told.
// All problems of all trials are collected; a trial that cannot be read at all is
// absent from the result.
func Load(content Content, problems *problem.List) *Site {
	s := &Site{reader: reader{ReadKitchen(content, problems), content, newAlbum()}}
	slugs := s.trials(problems)
	entries := make([]*Entry, len(slugs))
	found := make([]problem.List, len(slugs))
	each(len(slugs), func(i int) {
		entries[i] = s.entry(slugs[i], &found[i])
	})
	for _, list := range found {
		problems.Join(list)
	}
	s.arrange(entries)
	x := s.titles()
	x.checkRepeats(problems)
	// The prose may link to other trials, so it is told once all of them are known.
	told := make([]problem.List, len(entries))
	each(len(entries), func(i int) {
		if entries[i] != nil {
			s.samplePhotos(entries[i], &told[i])
			s.tell(entries[i], x.known(), &told[i])
			entries[i].Questions(&told[i])
		}
	})
	for _, list := range told {
		problems.Join(list)
	}
	return s
}

// Plan lists every file of a site that is held in memory.
func Plan(s *Site, look Look) []Output { return planned(s.bound(look)).all() }

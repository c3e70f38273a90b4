package press

import "sync"

// manyFacts are the facts of files that are made, each by its place among them. There may be
// very many, and a pointer to each would be one more for the collector to follow: they lie one
// after the other in blocks, in the order in which they come.
type manyFacts struct {
	mutex  sync.Mutex
	blocks [][]byte
	places []factsPlace
}

// factsPlace is where facts lie in a block; the zero one is that of none.
type factsPlace struct{ block, from, to uint32 }

const factsBlock = 64 << 10

func newManyFacts(files int) *manyFacts { return &manyFacts{places: make([]factsPlace, files)} }

// put takes the facts of one file, once. Several goroutines may do so.
func (m *manyFacts) put(k int, facts []byte) {
	if len(facts) == 0 {
		return
	}
	m.mutex.Lock()
	defer m.mutex.Unlock()
	last := len(m.blocks) - 1
	if last < 0 || cap(m.blocks[last])-len(m.blocks[last]) < len(facts) {
		m.blocks = append(m.blocks, make([]byte, 0, max(factsBlock, len(facts))))
		last++
	}
	from := len(m.blocks[last])
	m.blocks[last] = append(m.blocks[last], facts...)
	m.places[k] = factsPlace{uint32(last), uint32(from), uint32(from + len(facts))}
}

// of returns the facts of one file, when all were taken.
func (m *manyFacts) of(k int) []byte {
	at := m.places[k]
	if at.to == 0 {
		return nil
	}
	return m.blocks[at.block][at.from:at.to]
}

package press

import (
	"fmt"
	"sync"

	"sidebatch.example/sidebatch/internal/site"
)

// mostLots is how many lots stay listed, more than are worked on at a time: outputs are made
// in their order.
const mostLots = 32

// listing lists lots again while their files are made.
type listing struct {
	mutex sync.Mutex
	lots  []listedLot // the one listed last at the end
}

type listedLot struct {
	number  int
	outputs []site.Output
}

// output returns output i of a set, as its lot lists it.
func (l *listing) output(s *set, i int) (site.Output, error) {
	number := s.lotOf(i)
	outputs := l.lot(s, number)
	at := i - int(s.first[number])
	if at >= len(outputs) || outputs[at].Path != s.path(i) {
		return site.Output{}, fmt.Errorf("%s: is no longer listed (publish again)", s.path(i))
	}
	return outputs[at], nil
}

// lot lists a lot, once as long as it stays listed.
func (l *listing) lot(s *set, number int) []site.Output {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	for _, lot := range l.lots {
		if lot.number == number {
			return lot.outputs
		}
	}
	if len(l.lots) == mostLots {
		l.lots = append(l.lots[:0], l.lots[1:]...)
	}
	lot := listedLot{number, s.lots[number].List()}
	l.lots = append(l.lots, lot)
	return lot.outputs
}

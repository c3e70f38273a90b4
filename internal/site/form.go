package site

import (
	"encoding/binary"
	"math"
	"strings"
	"sync"

	"sidebatch.example/sidebatch/internal/trial"
)

// form writes values for another run, or reads them. What it does to a value is said once for
// both, field by field. It is for what there is one of in each trial of a large kitchen, and is
// read in every run: there it takes a tenth of the time that a codec for any kind of value took.
//
// A number is a varint, a text its length and bytes, a list its length and its elements.
// What is read shares the memory of the whole.
type form struct {
	reading bool
	out     strings.Builder // what was written
	in      string          // what is left to read
	wrong   bool            // what was read is no such form; all that comes after is zero
}

// readForm reads a value of which do says what it is; it is false where the data holds
// something else.
func readForm(data string, do func(f *form)) bool {
	f := form{reading: true, in: data}
	do(&f)
	return !f.wrong && f.in == ""
}

// writeForm writes a value, which takes so many bytes, about.
func writeForm(size int, do func(f *form)) string {
	var f form
	f.out.Grow(size)
	do(&f)
	return f.out.String()
}

// take takes the next bytes off what is left to read.
func (f *form) take(n int) string {
	if f.wrong || n > len(f.in) {
		f.wrong = true
		return ""
	}
	text := f.in[:n]
	f.in = f.in[n:]
	return text
}

// number is a number that is not below zero.
func (f *form) number(n *int) {
	if !f.reading {
		var room [binary.MaxVarintLen64]byte
		f.out.Write(binary.AppendUvarint(room[:0], uint64(*n)))
		return
	}
	whole := uint64(0)
	for shift := 0; ; shift += 7 {
		b := f.take(1)
		if f.wrong || shift > 56 {
			f.wrong = true
			*n = 0
			return
		}
		whole |= uint64(b[0]&0x7f) << shift
		if b[0] < 0x80 {
			*n = int(whole)
			return
		}
	}
}

func (f *form) text(s *string) {
	n := len(*s)
	f.number(&n)
	if f.reading {
		*s = f.take(n)
	} else {
		f.out.WriteString(*s)
	}
}

// bytes writes what text reads.
func (f *form) bytes(data []byte) {
	n := len(data)
	f.number(&n)
	f.out.Write(data)
}

func (f *form) yes(b *bool) {
	n := 0
	if *b {
		n = 1
	}
	f.number(&n)
	*b = n == 1
}

// whole is a number that may be below zero: 0, −1, 1, −2 are written as 0, 1, 2, 3.
func (f *form) whole(n *int) {
	folded := *n<<1 ^ *n>>63
	f.number(&folded)
	*n = folded>>1 ^ -(folded & 1)
}

// decimal is a number in its eight bytes.
func (f *form) decimal(x *float64) {
	if !f.reading {
		var room [8]byte
		f.out.Write(binary.LittleEndian.AppendUint64(room[:0], math.Float64bits(*x)))
		return
	}
	if bits := f.take(8); bits != "" {
		*x = math.Float64frombits(binary.LittleEndian.Uint64([]byte(bits)))
	}
}

// numberOf and wordOf are values of a type that has few.
func numberOf[T ~int | ~uint8](f *form, v *T) {
	n := int(*v)
	f.number(&n)
	*v = T(n)
}

func wordOf[T ~string](f *form, v *T) {
	word := string(*v)
	f.text(&word)
	*v = T(word)
}

func (f *form) digest(d *Digest) {
	if f.reading {
		copy(d[:], f.take(len(d)))
	} else {
		f.out.Write(d[:])
	}
}

func (f *form) date(d *trial.Date) {
	f.number(&d.Year)
	f.number(&d.Month)
	f.number(&d.Day)
}

// mostAtOnce is for how many elements room is made before any was read.
const mostAtOnce = 1 << 14

// listOf is a list whose elements one says what they are.
func listOf[T any](f *form, list *[]T, one func(*T)) {
	n := len(*list)
	f.number(&n)
	if !f.reading {
		for i := range *list {
			one(&(*list)[i])
		}
		return
	}
	*list = nil
	if n > 0 {
		*list = make([]T, 0, min(n, mostAtOnce))
	}
	for range n {
		var none T
		*list = append(*list, none)
		if one(&(*list)[len(*list)-1]); f.wrong { // where it lies, for each elsewhere would be memory of its own
			return
		}
	}
}

func (f *form) texts(list *[]string) { listOf(f, list, f.text) }

// bytesOfPooled is how many bytes a value of a pool takes, about.
const bytesOfPooled = 64

// maybe is a value that may not be there.
func maybe[T any](f *form, at **T, of func(*T)) {
	there := *at != nil
	f.yes(&there)
	if !there {
		*at = nil
		return
	}
	if f.reading {
		*at = new(T)
	}
	of(*at)
}

// pool is values of which there are few different ones, each written once.
type pool[T any] struct {
	of      func(*form, *T)
	all     []T
	numbers map[string]int // in all, by what is written of them
	added   map[*T]int     // likewise, by where they lie
}

// alike has one value stand for all that are like it, which many trials have.
type alike[T any] struct {
	pool  *pool[T]
	mutex sync.Mutex
	first map[string]*T // by what is written of them
}

func newAlike[T any](of func(*form, *T)) *alike[T] {
	return &alike[T]{pool: newPool(of), first: map[string]*T{}}
}

// share puts the first one of its kind in the place of each, in a list of the same length.
func (a *alike[T]) share(list []*T) []*T {
	a.mutex.Lock()
	defer a.mutex.Unlock()
	shared := make([]*T, len(list)) // without room to grow
	for i, x := range list {
		key := a.pool.key(x)
		if a.first[key] == nil {
			a.first[key] = x
		}
		shared[i] = a.first[key]
	}
	return shared
}

func newPool[T any](of func(*form, *T)) *pool[T] {
	return &pool[T]{of: of, numbers: map[string]int{}, added: map[*T]int{}}
}

func (p *pool[T]) key(x *T) string { return writeForm(bytesOfPooled, func(f *form) { p.of(f, x) }) }

// add adds what is to be written.
func (p *pool[T]) add(list ...*T) {
	for _, x := range list {
		if _, was := p.added[x]; was {
			continue
		}
		key := p.key(x)
		if _, known := p.numbers[key]; !known {
			p.numbers[key] = len(p.all)
			p.all = append(p.all, *x)
		}
		p.added[x] = p.numbers[key]
	}
}

// values are all values.
func (p *pool[T]) values(f *form) { listOf(f, &p.all, func(x *T) { p.of(f, x) }) }

// members is a list of values that were written, or read, before.
func (p *pool[T]) members(f *form, list *[]*T) {
	n := len(*list)
	f.number(&n)
	if !f.reading {
		for _, x := range *list {
			number := p.added[x]
			f.number(&number)
		}
		return
	}
	if n > len(f.in) { // a number takes a byte at least
		f.wrong = true
		return
	}
	*list = make([]*T, n)
	for i := range *list {
		if (*list)[i] = p.next(f); f.wrong {
			*list = nil
			return
		}
	}
}

// member is one value that was written, or read, before. What lies in it is shared.
func (p *pool[T]) member(f *form, x *T) {
	if !f.reading {
		number := p.added[x]
		f.number(&number)
		return
	}
	if of := p.next(f); of != nil {
		*x = *of
	}
}

// next reads the number of a value.
func (p *pool[T]) next(f *form) *T {
	number := 0
	if f.number(&number); number >= len(p.all) {
		f.wrong = true
		return nil
	}
	return &p.all[number]
}

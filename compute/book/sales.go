package book

import (
	"iter"
	"slices"

	"pourbook/compute/day"
	"pourbook/compute/money"
)

// Sale is one line of Sales, as typed; formula "Sales" gives its net. Product
// and Channel index the book's lists, Market the spellings of markets; Channel
// is -1 for none. Order and Customer tell orders and customers apart, 0 for none.
type Sale struct {
	Day      day.Date
	Order    int32
	Customer int32
	Row      int32
	SalePlace
	SaleAmounts
}

// SalePlace is what was sold and where: what most lines have in common with
// many others. Sheet indexes SaleSheets.
type SalePlace struct {
	Product int32
	Channel int32
	Market  int32
	Sheet   int32
}

// SaleAmounts are the amounts of a line.
type SaleAmounts struct {
	Has      SaleHas
	Qty      money.Amount
	Price    money.Amount
	Total    money.Amount
	Discount money.Amount
}

// Units is the quantity, below 0 for a refund: a negative total or price with a
// positive quantity is one of that quantity.
func (a *SaleAmounts) Units() money.Amount {
	if a.Qty.Sign() > 0 && (a.Has&HasTotal != 0 && a.Total.Sign() < 0 || a.Has&HasPrice != 0 && a.Price.Sign() < 0) {
		return a.Qty.Neg()
	}
	return a.Qty
}

// SaleHas tells which of a sale's amounts were typed.
type SaleHas uint8

// The amounts of a sale.
const (
	HasPrice SaleHas = 1 << iota
	HasTotal
	HasDiscount
	// BadMoney: an optional amount could not be read, so the line's net is unknown.
	BadMoney
)

// Sales are the lines of Sales, packed, since there may be a million: places
// and amounts are kept apart, for all lines that have the same, and numbered,
// and the lines are held in about five bytes each. The zero value holds no lines.
type Sales struct {
	chunks  []chunk
	open    []PackedSale // behind the chunks, less than a chunk
	places  numbered[SalePlace]
	amounts numbered[SaleAmounts]
}

// PackedSale is a line whose place and amounts are numbers of the lists that
// [Sales.Places] and [Sales.Amounts] give.
type PackedSale struct {
	Day      day.Date
	Order    int32
	Customer int32
	Row      int32
	Place    int32
	Amounts  int32
}

// numbered numbers values from 0, each that of is asked for once.
type numbered[T comparable] struct {
	list  []T
	index map[T]int32
	met   [metLen]int32 // by some bits of its key, one more than the number of the value met last
}

const metLen = 1 << 13

// of is the number of a value; the same values have the same key.
func (t *numbered[T]) of(x *T, key uint64) int32 {
	met := &t.met[key*0x9e3779b97f4a7c15>>51]
	if *met > 0 && t.list[*met-1] == *x {
		return *met - 1
	}
	t.makeIndex()
	i, ok := t.index[*x]
	if !ok {
		i = t.add(*x)
		t.index[*x] = i
	}
	*met = i + 1
	return i
}

// makeIndex makes the index of the list as it is, where there is none.
func (t *numbered[T]) makeIndex() {
	if t.index == nil {
		t.index = map[T]int32{}
		for i, x := range t.list {
			t.index[x] = int32(i)
		}
	}
}

// add adds a value that of does not find.
func (t *numbered[T]) add(x T) int32 {
	t.makeIndex()
	t.list = append(t.list, x)
	return int32(len(t.list) - 1)
}

func (p *SalePlace) key() uint64 {
	return uint64(uint32(p.Product)) ^ uint64(uint32(p.Channel))<<20 ^ uint64(uint32(p.Market))<<40
}

func (a *SaleAmounts) key() uint64 {
	return a.Qty.Key() + 3*a.Price.Key() + 5*a.Total.Key() + 7*a.Discount.Key() + uint64(a.Has)
}

// Len is the number of lines.
func (s *Sales) Len() int { return len(s.chunks)*chunkLines + len(s.open) }

// Packed is the line of an index, as it is kept.
func (s *Sales) Packed(i int) PackedSale {
	if c := i / chunkLines; c < len(s.chunks) {
		return s.chunks[c].at(i % chunkLines)
	}
	return s.open[i%chunkLines]
}

// Places are the places of the lines, by number; some may have no line.
func (s *Sales) Places() []SalePlace { return s.places.list }

// Amounts are the amounts of the lines, by number; some may have no line.
func (s *Sales) Amounts() []SaleAmounts { return s.amounts.list }

// At is the line of an index.
func (s *Sales) At(i int) Sale { return s.Unpack(s.Packed(i)) }

// Unpack is a line with its place and amounts.
func (s *Sales) Unpack(p PackedSale) Sale {
	return Sale{Day: p.Day, Order: p.Order, Customer: p.Customer, Row: p.Row, SalePlace: s.places.list[p.Place], SaleAmounts: s.amounts.list[p.Amounts]}
}

// Pack numbers the place and the amounts of a line, which is not added.
func (s *Sales) Pack(x *Sale) PackedSale {
	return PackedSale{
		x.Day, x.Order, x.Customer, x.Row, s.places.of(&x.SalePlace, x.SalePlace.key()), s.amounts.of(&x.SaleAmounts, x.SaleAmounts.key()),
	}
}

// AddPlace numbers a place that no line gets by [Sales.Pack].
func (s *Sales) AddPlace(x SalePlace) int32 { return s.places.add(x) }

// AddAmounts numbers amounts that no line gets by [Sales.Pack].
func (s *Sales) AddAmounts(x SaleAmounts) int32 { return s.amounts.add(x) }

// Turn gives the numbers of places and amounts other values, by number, and so
// all lines that have them.
func (s *Sales) Turn(places []SalePlace, amounts []SaleAmounts) {
	s.places, s.amounts = numbered[SalePlace]{list: places}, numbered[SaleAmounts]{list: amounts}
}

// Add adds a line.
func (s *Sales) Add(x Sale) { s.add(s.Pack(&x)) }

func (s *Sales) add(p PackedSale) {
	s.open = append(s.open, p)
	if len(s.open) == chunkLines {
		s.chunks = append(s.chunks, chunkOf(s.open))
		s.open = s.open[:0]
	}
}

// addChunk adds a chunk's lines, in the room where they do not stay together, and
// gives the room back.
func (s *Sales) addChunk(c chunk, room []PackedSale) []PackedSale {
	if len(s.open) == 0 {
		s.chunks = append(s.chunks, c)
		return room
	}
	room = c.all(room)
	for _, p := range room {
		s.add(p)
	}
	return room
}

// Set puts a line in the place of the one of an index, which takes the time of
// some thousand lines where there are many.
func (s *Sales) Set(i int, x Sale) {
	c := i / chunkLines
	if c == len(s.chunks) {
		s.open[i%chunkLines] = s.Pack(&x)
		return
	}
	lines := s.chunks[c].all(nil)
	lines[i%chunkLines] = s.Pack(&x)
	s.chunks[c] = chunkOf(lines)
}

// All is the lines with their indexes.
func (s *Sales) All() iter.Seq2[int, Sale] {
	return func(yield func(int, Sale) bool) {
		for i := range s.Len() {
			if !yield(i, s.At(i)) {
				return
			}
		}
	}
}

// Days are the first and the last day with a line; false where there is no line.
func (s *Sales) Days() (first, last day.Date, ok bool) {
	for part := range s.Stretches(0, s.Len(), Days) {
		low, high := day.Date(slices.Min(part.Days)), day.Date(slices.Max(part.Days))
		if !ok {
			first, last, ok = low, high, true
		}
		first, last = min(first, low), max(last, high)
	}
	return first, last, ok
}

// Keep keeps the lines for which f is true, as f leaves them. f is given every
// line once, in order; meanwhile s holds the lines that have been kept.
func (s *Sales) Keep(f func(i int, x *PackedSale) bool) {
	s.KeepMany(0, 0, func(*Stretch) bool { return false }, f)
}

// KeepMany is Keep, but many lines at once may be given to all first, with the
// columns that it looks at and those that it changes: where it is true they are
// kept with what it leaves in the latter, and f is not asked.
func (s *Sales) KeepMany(looks, changes Columns, all func(*Stretch) bool, f func(i int, x *PackedSale) bool) {
	chunks, open := s.chunks, s.open
	v, x := new(columns), Stretch{}
	s.chunks, s.open = nil, nil
	i := 0
	keep := func(lines []PackedSale) {
		for j := range lines {
			if f(i, &lines[j]) {
				s.add(lines[j])
			}
			i++
		}
	}
	var lines []PackedSale
	for c := range chunks {
		chunks[c].columns(v, looks|changes)
		x.First = i
		x.of(v, 0, chunkLines, looks|changes)
		if all(&x) {
			lines = s.addChunk(chunks[c].changed(v, changes), lines)
			i += chunkLines
		} else {
			lines = chunks[c].all(lines)
			keep(lines)
		}
		chunks[c] = chunk{}
	}
	keep(open)
}

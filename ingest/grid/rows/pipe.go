package rows

import (
	"errors"
	"io"
	"sync"
)

// Sizes of a block: the room before what is read, for the beginning
// of a row from the block before, and the zeros behind it, which end every loop.
const (
	roomSize  = 16 << 10
	padSize   = 64
	maxBlocks = 5
	// maxUnit bounds a row, an item or what stands before the rows.
	maxUnit = 2 << 20
)

// readSize is what one read takes, less in tests.
var readSize = 240 << 10

// block is a piece of a part and what was found in it.
type block struct {
	buf   []byte
	n     int   // bytes read behind the room
	err   error // of the reader, behind these bytes
	fault error // of the scanner, behind what was found

	Block
	cells []Cell
	texts []Span
}

// fault is a panic of one of the goroutines, on its way to the caller's.
type fault struct{ value any }

func (*fault) Error() string { return "panic" }

// caught is f's error, or its panic as one.
func caught(f func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = &fault{p}
		}
	}()
	return f()
}

// pipe reads blocks, scans them and gives them out, each in a goroutine of its
// own, the last in the caller's. None is left when run returns.
type pipe struct {
	free, filled, scanned chan *block
	stop                  chan struct{}
	wait                  sync.WaitGroup
}

func run(r io.Reader, scan func(*block) error, give func(*block) error) error {
	p := &pipe{
		free: make(chan *block, maxBlocks), filled: make(chan *block, maxBlocks),
		scanned: make(chan *block, maxBlocks), stop: make(chan struct{}),
	}
	p.wait.Go(func() { p.fill(r) })
	p.wait.Go(func() { p.scan(scan) })
	err := p.give(give)
	close(p.stop)
	p.wait.Wait()
	if f, ok := err.(*fault); ok {
		panic(f.value)
	}
	return err
}

func (p *pipe) give(give func(*block) error) error {
	for b := range p.scanned {
		if err := give(b); err != nil {
			return err
		}
		if b.fault != nil {
			return b.fault
		}
		p.free <- b
	}
	return nil
}

func (p *pipe) scan(scan func(*block) error) {
	defer close(p.scanned)
	for {
		var b *block
		select {
		case b = <-p.filled:
		case <-p.stop:
			return
		}
		b.Rows, b.cells, b.texts, b.arena = b.Rows[:0], b.cells[:0], b.texts[:0], b.arena[:0]
		last := b.err != nil
		if b.fault = caught(func() error { return scan(b) }); b.fault == nil && last && b.err != io.EOF {
			b.fault = b.err
		}
		last = last || b.fault != nil
		p.scanned <- b
		if last {
			return
		}
	}
}

func (p *pipe) fill(r io.Reader) {
	for made := 0; ; {
		var b *block
		select {
		case b = <-p.free:
		case <-p.stop:
			return
		default:
		}
		if b == nil && made < maxBlocks {
			made++
			b = &block{buf: make([]byte, roomSize+readSize+padSize)}
		}
		if b == nil {
			select {
			case b = <-p.free:
			case <-p.stop:
				return
			}
		}
		if err := caught(func() error { b.read(r); return nil }); err != nil {
			b.err = err
		}
		last := b.err != nil
		p.filled <- b
		if last {
			return
		}
	}
}

// read fills the block as far as it can.
func (b *block) read(r io.Reader) {
	into := b.buf[roomSize : roomSize+readSize]
	b.n, b.err = 0, nil
	for idle := 0; b.n < len(into) && b.err == nil; {
		var n int
		n, b.err = r.Read(into[b.n:])
		b.n += n
		if idle++; n > 0 {
			idle = 0
		} else if idle == 100 && b.err == nil {
			b.err = io.ErrNoProgress
		}
	}
}

var errTooLong = errors.New("too long")

// join gives the carried bytes and the block's in one piece, with a pad of
// zeros behind them; hi is where they end.
func (b *block) join(carry []byte) (data []byte, hi int, err error) {
	if hi = len(carry) + b.n; len(carry) <= roomSize {
		lo := roomSize - len(carry)
		copy(b.buf[lo:], carry)
		data = b.buf[lo : roomSize+b.n+padSize]
	} else {
		if len(carry) > maxUnit {
			return nil, 0, errTooLong
		}
		data = make([]byte, hi+padSize)
		copy(data, carry)
		copy(data[len(carry):], b.buf[roomSize:roomSize+b.n])
	}
	clear(data[hi:])
	return data, hi, nil
}

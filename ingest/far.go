package ingest

import (
	"os"

	"pourbook/ingest/grid"
)

// far tells how far the reading is. A file's part of it is by its size on disk,
// a sheet's by the size of what is read.
type far struct {
	progress func(rows int, share float64) // nil when nobody asks
	parts    []float64                     // of the files that were not begun
	before   float64                       // share of the files that were read
	part     float64                       // of the file in hand
	sheets   []*grid.Sheet                 // of the file in hand
}

func newFar(progress func(int, float64), paths []string) far {
	f := far{progress: progress}
	if progress == nil {
		return f
	}
	all := 0.0
	for _, path := range paths {
		size := 1.0
		if info, err := os.Stat(path); err == nil {
			size += float64(info.Size())
		}
		all += size
		f.parts = append(f.parts, size)
	}
	for i := range f.parts {
		f.parts[i] /= all
	}
	return f
}

// begin is told of each file in turn.
func (f *far) begin(file *grid.File) {
	if f.progress == nil {
		return
	}
	f.before += f.part
	f.part, f.parts = f.parts[0], f.parts[1:]
	f.sheets = file.Sheets
}

// tell tells how far the reading is in a sheet of the file in hand.
func (f *far) tell(rows int, in *grid.Sheet) {
	if f.progress == nil {
		return
	}
	var read, all int64
	passed := false
	for _, s := range f.sheets {
		n, size := s.Far()
		all += size
		if s == in {
			passed = true
			read += min(n, size)
		} else if !passed {
			read += size
		}
	}
	f.progress(rows, min(f.before+f.part*float64(read)/float64(max(all, 1)), 1))
}

func (f *far) end(rows int) {
	if f.progress != nil {
		f.progress(rows, 1)
	}
}

package grid

import (
	"context"
	"crypto/sha256"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
	"sync"
)

// hashed is a file that is hashed as it is read, so that it need not be run
// through for its fingerprint: the bytes that come in order from its start, and
// what is left in the end.
type hashed struct {
	*os.File
	before fs.FileInfo // as it was opened
	mu     sync.Mutex
	sum    hash.Hash
	done   int64
}

// gap is how many bytes are hashed out of turn to reach those that were read: a
// part's header is left out by who reads the part.
const gap = 64 << 10

func newHashed(f *os.File, before fs.FileInfo) *hashed {
	return &hashed{File: f, before: before, sum: sha256.New()}
}

// ReadAt reads as a file does.
func (h *hashed) ReadAt(p []byte, at int64) (int, error) {
	n, err := h.File.ReadAt(p, at)
	h.mu.Lock()
	defer h.mu.Unlock()
	if at > h.done && at-h.done <= gap {
		if err := h.upTo(context.Background(), at); err != nil {
			return 0, err
		}
	}
	if end := at + int64(n); at <= h.done && h.done < end {
		h.sum.Write(p[h.done-at : n])
		h.done = end
	}
	return n, err
}

// upTo hashes what comes before a place.
func (h *hashed) upTo(ctx context.Context, end int64) error {
	n, err := io.Copy(h.sum, &contextReader{ctx, io.NewSectionReader(h.File, h.done, end-h.done)})
	h.done += n
	return err
}

// finish is the hash of the whole file, or a fault of one that changed.
func (h *hashed) finish(ctx context.Context) ([]byte, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if err := h.upTo(ctx, h.before.Size()); err != nil {
		return nil, unread(ctx, err)
	}
	if h.done != h.before.Size() || h.changed() {
		return nil, fault("changed", nil)
	}
	return h.sum.Sum(nil), nil
}

func (h *hashed) changed() bool { return changed(h.File, h.before) }

// changed reports whether a file is not what it was, as far as its size and
// time tell.
func changed(f *os.File, before fs.FileInfo) bool {
	after, err := f.Stat()
	return err != nil || after.Size() != before.Size() || !after.ModTime().Equal(before.ModTime())
}

func fingerprint(sum []byte) string { return fmt.Sprintf("%x-%x", sum[:2], sum[2:4]) }

// Finish ends the reading of a file, which ended with err: it sets the Print of
// a large workbook, and is the fault of a file that changed meanwhile, else err.
func (f *File) Finish(ctx context.Context, err error) error {
	if f.kept == nil {
		return err
	}
	if err != nil {
		if f.kept.changed() {
			return at(f.Path, fault("changed", err))
		}
		return err
	}
	sum, err := f.kept.finish(ctx)
	if err != nil {
		return at(f.Path, err)
	}
	f.Print = fingerprint(sum)
	return nil
}

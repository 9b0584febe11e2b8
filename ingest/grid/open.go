package grid

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// maxFile bounds the file that is read: a million sales rows take 60 MB.
const maxFile = 128 << 20

// keptFile is the size from which a workbook is left in its file and not held
// in memory. It is less in tests.
var keptFile int64 = 8 << 20

// Open reads a workbook (.xlsx, .xlsm, .xltx, .xltm) or a text file of values
// (.csv, .tsv, .txt), told apart by content. Every error that concerns the
// file is a *Fault. The bytes of a file are checked before any cell is given out,
// except for large sheets and for the XML of each sheet, which Sheet.Each checks to
// its end while it reads, and for whether a large workbook changes, which
// File.Finish tells.
func Open(ctx context.Context, path string) (*File, error) {
	f, err := open(ctx, path)
	return f, at(path, err)
}

// at puts the path into a fault.
func at(path string, err error) error {
	var f *Fault
	if errors.As(err, &f) && f.Path == "" {
		f.Path = path
	}
	return err
}

func open(ctx context.Context, path string) (*File, error) {
	c, err := read(ctx, path)
	if err != nil {
		return nil, err
	}
	base := filepath.Base(path)
	f := &File{
		Name: strings.TrimSuffix(base, filepath.Ext(base)),
		Path: path,
		kept: c.file,
	}
	if c.file == nil {
		sum := sha256.Sum256(c.data)
		f.Print = fingerprint(sum[:])
	}
	ext := strings.ToLower(filepath.Ext(base))
	kind := sniff(c.data)
	switch {
	case kind == isZip:
		err = f.openBook(ctx, c)
		if err == nil && !slices.Contains(bookExtensions, ext) {
			f.note("note-extension")
		}
	case kind == isText && (slices.Contains(textExtensions, ext) || ext == ""):
		err = f.openText(c.data, ext)
	case kind == isText:
		err = fault("text-named-book", nil)
	default:
		err = fault(kind, nil)
	}
	if err != nil {
		err = f.Finish(ctx, err)
		f.Close()
		return nil, err
	}
	return f, nil
}

var (
	bookExtensions = []string{".xlsx", ".xlsm", ".xltx", ".xltm"}
	textExtensions = []string{".csv", ".tsv", ".tab", ".txt"}
)

// content is what a file holds: all of it in data, or only its beginning, if
// the rest is left in the file.
type content struct {
	data []byte
	file *hashed // open, or nil
	size int64
}

func (c *content) reader() io.ReaderAt {
	if c.file != nil {
		return c.file
	}
	return bytes.NewReader(c.data)
}

// read is the file's content, once it is sure that it is a file that can be
// read without waiting or harm.
func read(ctx context.Context, path string) (c *content, err error) {
	before, err := os.Stat(path)
	if err != nil {
		return nil, absent(path, err)
	}
	if err := usable(path, before); err != nil {
		return nil, err
	}
	in, err := os.Open(path)
	if err != nil {
		return nil, absent(path, err)
	}
	defer func() {
		if c == nil || c.file == nil {
			in.Close()
		}
	}()
	if c, err = load(ctx, in, before); err != nil {
		return nil, unread(ctx, err)
	}
	if c.size != before.Size() || changed(in, before) {
		return nil, fault("changed", nil)
	}
	return c, nil
}

// load reads a file of about the size before, of a large workbook only the
// beginning.
func load(ctx context.Context, in *os.File, before fs.FileInfo) (*content, error) {
	var b bytes.Buffer
	r := io.LimitReader(&contextReader{ctx, in}, maxFile+1)
	if before.Size() > keptFile {
		if _, err := b.ReadFrom(io.LimitReader(r, 4)); err != nil {
			return nil, err
		}
		if sniff(b.Bytes()) == isZip {
			return &content{data: b.Bytes(), file: newHashed(in, before), size: before.Size()}, nil
		}
	}
	b.Grow(int(before.Size()) + bytes.MinRead)
	if _, err := b.ReadFrom(r); err != nil {
		return nil, err
	}
	return &content{data: b.Bytes(), size: int64(b.Len())}, nil
}

func unread(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if locked(err) {
		return fault("locked", err)
	}
	return fault("unreadable", err)
}

// usable refuses what is no file with content.
func usable(path string, info fs.FileInfo) error {
	base := filepath.Base(path)
	switch {
	case info.IsDir():
		return fault("folder", nil)
	case !info.Mode().IsRegular():
		return fault("special", nil)
	case strings.HasPrefix(base, "~$") || strings.HasPrefix(base, ".~lock."):
		return fault("owner-file", nil, "book", ownedBy(base))
	case info.Size() == 0:
		return fault("empty", nil)
	case info.Size() > maxFile:
		return fault("too-big", nil, "limit", maxFile>>20)
	}
	return nil
}

// ownedBy is the book that a lock note stands for.
func ownedBy(base string) string {
	base = strings.TrimPrefix(base, "~$")
	return strings.TrimSuffix(strings.TrimPrefix(base, ".~lock."), "#")
}

func absent(path string, err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fault("no-permission", err)
	case locked(err):
		return fault("locked", err)
	case !errors.Is(err, fs.ErrNotExist):
		return fault("unreadable", err)
	}
	if near := neighbors(path); len(near) > 0 {
		return fault("missing.near", err, "near", strings.Join(near, ", "))
	}
	return fault("missing", err)
}

// contextReader stops reading when the context ends.
type contextReader struct {
	ctx context.Context
	r   io.Reader
}

func (c *contextReader) Read(p []byte) (int, error) {
	if err := c.ctx.Err(); err != nil {
		return 0, err
	}
	return c.r.Read(p)
}

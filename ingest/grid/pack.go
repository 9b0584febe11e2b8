package grid

import (
	"archive/zip"
	"context"
	"errors"
	"hash/crc32"
	"io"
	"strings"
)

// Limits of a package. A book beyond them is no maker's book; a file made to
// exhaust memory is refused before it does.
const (
	maxParts     = 5_000
	maxUnzipped  = 1 << 30   // all parts; a million sales rows take 400 MB
	maxSmallPart = 32 << 20  // a part that is held in memory whole
	maxTexts     = 256 << 20 // the part that holds the texts of cells
	maxTextCount = 5_000_000
	maxRatio     = 200     // unzipped to zipped
	ratioFloor   = 8 << 20 // below this size the ratio does not matter
)

// pack is a zip package whose parts have been checked.
type pack struct {
	ctx   context.Context
	parts map[string]*zip.File // by folded name
}

func newPack(ctx context.Context, r io.ReaderAt, size int64) (*pack, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, fault("truncated", err)
	}
	if len(z.File) > maxParts {
		return nil, fault("too-many-parts", nil, "limit", maxParts)
	}
	z.RegisterDecompressor(zip.Deflate, inflate)
	p := &pack{ctx: ctx, parts: make(map[string]*zip.File, len(z.File))}
	var total uint64
	for _, f := range z.File {
		if strings.HasSuffix(f.Name, "/") {
			continue
		}
		if err := p.admit(f); err != nil {
			return nil, err
		}
		if total += f.UncompressedSize64; total > maxUnzipped {
			return nil, fault("too-much", nil, "limit", maxUnzipped>>20)
		}
	}
	return p, nil
}

func (p *pack) admit(f *zip.File) error {
	name := partKey(f.Name)
	switch {
	case p.parts[name] != nil:
		return fault("part-twice", nil, "part", f.Name)
	case f.Flags&1 != 0:
		return fault("encrypted", nil)
	case f.Method != zip.Store && f.Method != zip.Deflate:
		return fault("part-damaged", zip.ErrAlgorithm, "part", f.Name)
	case f.UncompressedSize64 > maxUnzipped:
		return fault("too-much", nil, "limit", maxUnzipped>>20)
	case f.UncompressedSize64 > ratioFloor && f.UncompressedSize64/maxRatio > f.CompressedSize64:
		return fault("bomb", nil, "part", f.Name)
	}
	p.parts[name] = f
	return nil
}

// partKey is the form in which names of parts are compared.
func partKey(name string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(name, `\`, "/"), "/"))
}

func (p *pack) has(name string) bool { return p.parts[partKey(name)] != nil }

// open reads a part's bytes as they are. A read error is a *Fault.
func (p *pack) open(name string) (io.ReadCloser, error) {
	f := p.parts[partKey(name)]
	if f == nil {
		return nil, fault("part-missing", nil, "part", name)
	}
	rc, err := f.Open()
	if err != nil {
		return nil, fault("part-damaged", err, "part", f.Name)
	}
	return &partReader{ReadCloser: rc, ctx: p.ctx, f: f, crc: crc32.NewIEEE()}, nil
}

// check reads every part to its end, so that a wrong size or checksum is found.
func (p *pack) check(except map[string]bool) error {
	for name := range p.parts {
		if except[name] {
			continue
		}
		if err := p.drain(name); err != nil {
			return err
		}
	}
	return nil
}

func (p *pack) drain(name string) error {
	r, err := p.open(name)
	if err != nil {
		return err
	}
	defer r.Close()
	_, err = io.Copy(io.Discard, r)
	return err
}

// small is the whole of a part, as UTF-8.
func (p *pack) small(name string) ([]byte, error) {
	r, err := p.open(name)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(unicodeReader(r), maxSmallPart+1))
	if err == nil && len(data) > maxSmallPart {
		return nil, fault("too-much", nil, "limit", maxSmallPart>>20)
	}
	return data, err
}

// partReader checks the size and checksum that the archive/zip package lets
// pass: more bytes than declared, and a checksum of zero.
type partReader struct {
	io.ReadCloser
	ctx context.Context
	f   *zip.File
	n   uint64
	crc interface {
		io.Writer
		Sum32() uint32
	}
}

func (r *partReader) Read(b []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := r.ReadCloser.Read(b)
	if r.n += uint64(n); r.n > r.f.UncompressedSize64 {
		return 0, r.damaged(errors.New("longer than declared"))
	}
	if r.f.CRC32 == 0 {
		r.crc.Write(b[:n])
	}
	switch {
	case err == nil || err == io.EOF && (r.f.CRC32 != 0 || r.crc.Sum32() == 0):
		return n, err
	case err == io.EOF:
		err = zip.ErrChecksum
	}
	return n, r.damaged(err)
}

func (r *partReader) damaged(err error) error {
	return fault("part-damaged", err, "part", r.f.Name)
}

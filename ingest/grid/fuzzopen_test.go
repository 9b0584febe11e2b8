package grid

import (
	"archive/zip"
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"
)

// seeds are small books of several writers, and of other kinds of file.
func seeds(f *testing.F) {
	names, err := filepath.Glob(filepath.Join("..", "..", "testdata", "grid", "*"))
	if err != nil || len(names) == 0 {
		f.Fatal(err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, method := range []uint16{zip.Store, zip.Deflate} {
		f.Add(whole().ZipBy(method))
	}
	for _, s := range []string{"", "PK\x03\x04", "a,b\n1,2\n", "<html>", "%PDF-1.7", string(oleHead), "\x00\x00"} {
		f.Add([]byte(s))
	}
}

// FuzzOpen reads whole files: each is a fault, or gives the same cells twice.
func FuzzOpen(f *testing.F) {
	seeds(f)
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, ext := range []string{".xlsx", ".csv"} {
			file := openBytes(t, filepath.Join(dir, "book"+ext), data)
			if file == nil {
				continue
			}
			for _, s := range file.Sheets {
				first, err := cellsOf(s)
				anyFault(t, err)
				second, again := cellsOf(s)
				if !bytes.Equal(first, second) || (err == nil) != (again == nil) {
					t.Errorf("sheet %q is read in two ways: %q, %v and %q, %v", s.Name, first, err, second, again)
				}
			}
			file.Close()
		}
	})
}

// openBytes opens bytes as a file; nil where they are a fault.
func openBytes(t *testing.T, path string, data []byte) *File {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	file, err := Open(context.Background(), path)
	anyFault(t, err)
	return file
}

func cellsOf(s *Sheet) ([]byte, error) {
	var b bytes.Buffer
	err := s.Each(func(r Row) error {
		for i, c := range r.Cells {
			if c.Kind != Blank {
				b.WriteByte(byte(r.N))
				b.WriteByte(byte(i))
				b.WriteString(show(c))
			}
		}
		return nil
	})
	return b.Bytes(), err
}

// FuzzParts changes one part of a sound package, past the checks of archives.
func FuzzParts(f *testing.F) {
	for i, p := range whole() {
		f.Add(uint8(i), p.Text)
	}
	path := filepath.Join(f.TempDir(), "book.xlsx")
	f.Fuzz(func(t *testing.T, which uint8, text string) {
		book := whole()
		book[int(which)%len(book)].Text = text
		file := openBytes(t, path, book.ZipBy(zip.Store))
		if file == nil {
			return
		}
		defer file.Close()
		for _, s := range file.Sheets {
			_, err := cellsOf(s)
			anyFault(t, err)
		}
	})
}

func FuzzEncoding(f *testing.F) {
	for _, s := range []string{"", "a", "é", "\xe9t\xe9", "\xff\xfea\x00", "\xfe\xff\x00a", "\xff\xfe\x00\xd8", "a\x00b\x00", "\xef\xbb\xbf", "\x81", "\x00"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		text, name, err := decodeText(data)
		anyFault(t, err)
		if err == nil && (name == "" || len(text) > 3*len(data)) {
			t.Errorf("%d bytes of %q are %d", len(data), name, len(text))
		}
	})
}

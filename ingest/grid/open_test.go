package grid

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"

	"pourbook/ingest/grid/gridtest"
)

func TestOtherFilesAreFaults(t *testing.T) {
	fixture := func(name string) []byte {
		b, err := os.ReadFile(filepath.Join("..", "..", "testdata", "grid", name))
		must(t, err)
		return b
	}
	locked, err := os.ReadFile(written(t, func(*excelize.File) {}))
	must(t, err)
	locked, err = excelize.Encrypt(locked, &excelize.Options{Password: "wick"})
	must(t, err)
	for name, c := range map[string]struct {
		file string
		data []byte
		key  string
	}{
		"nothing":                  {"a.xlsx", nil, "empty"},
		"zeros":                    {"a.xlsx", make([]byte, 4096), "zeros"},
		"a lock note":              {"~$a.xlsx", []byte("\x05owner"), "owner-file"},
		"a password":               {"a.xlsx", locked, "encrypted"},
		"an old book":              {"a.xls", fixture("old.xls"), "old-xls"},
		"an old book, renamed":     {"a.xlsx", fixture("old.xls"), "old-xls"},
		"OpenDocument":             {"a.ods", fixture("open.ods"), "ods"},
		"OpenDocument, renamed":    {"a.xlsx", fixture("open.ods"), "ods"},
		"a binary book":            {"a.xlsb", whole().Change(gridtest.Rels, "workbook.xml", "workbook.bin").Zip(), "xlsb"},
		"a Numbers document":       {"a.numbers", gridtest.Parts{}.With("Index/Document.iwa", "x").ZipBy(zip.Store), "numbers"},
		"an archive":               {"a.zip", gridtest.Parts{}.With("notes.txt", "x").ZipBy(zip.Store), "no-book"},
		"a web page":               {"a.xls", []byte("<html><table><tr><td>1</td></tr></table>"), "html"},
		"a web page with a type":   {"a.xlsx", []byte("\ufeff <!DOCTYPE html><html>"), "html"},
		"a web page named .csv":    {"a.csv", []byte("<table><tr>"), "html"},
		"an XML file":              {"a.xlsx", []byte(`<?xml version="1.0"?><Workbook/>`), "xml"},
		"values named .xlsx":       {"a.xlsx", []byte("Date,Qty\n2026-10-31,3\n"), "text-named-book"},
		"values named .xls":        {"a.xls", []byte("Date\tQty\n"), "text-named-book"},
		"a PDF":                    {"a.xlsx", []byte("%PDF-1.7\n"), "pdf"},
		"a photograph":             {"a.xlsx", []byte("\xff\xd8\xff\xe0"), "picture"},
		"something else":           {"a.xlsx", []byte("\x7fELF\x02\x01\x01\x00\x00\x00"), "unknown"},
		"something named .csv":     {"a.csv", []byte("a,b\x00\x01,c"), "unknown"},
		"another compound file":    {"a.doc", append([]byte(nil), oleHead...), "unknown"},
		"the start of a book only": {"a.xlsx", []byte("PK\x03\x04"), "truncated"},
	} {
		if got := keyOf(t, file(t, c.file, c.data)); got != c.key {
			t.Errorf("%s: fault %q, want %q", name, got, c.key)
		}
	}
}

func TestWhatIsNoFile(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"Candle book.xlsx", "candle sales.csv", "notes.md", "~$Candle book.xlsx"} {
		must(t, os.WriteFile(filepath.Join(dir, name), []byte("x"), 0o600))
	}
	for _, c := range []struct{ name, key, near string }{
		{"", "folder", ""},
		{"Candle bok.xlsx", "missing.near", "Candle book.xlsx"},
		{"candle book.xls", "missing.near", "Candle book.xlsx"},
		{"Candle book", "missing.near", "Candle book.xlsx"},
		{"Candel sales.csv", "missing.near", "candle sales.csv"},
		{"jars.xlsx", "missing", ""},
		{filepath.Join("elsewhere", "book.xlsx"), "missing", ""},
	} {
		_, err := Open(context.Background(), filepath.Join(dir, c.name))
		var f *Fault
		if !errors.As(err, &f) || f.Key != c.key || c.near != "" && (len(f.Args) != 2 || f.Args[1] != c.near) {
			t.Errorf("%q: %+v, want %s %s", c.name, err, c.key, c.near)
		}
	}
	if f := absent("x", &fs.PathError{Op: "open", Path: "x", Err: fs.ErrPermission}).(*Fault); f.Key != "no-permission" {
		t.Errorf("%+v", f)
	}
	if f := absent("x", errors.New("input/output error")).(*Fault); f.Key != "unreadable" || f.Unwrap() == nil || !strings.Contains(f.Error(), "unreadable") {
		t.Errorf("%+v", f)
	}
}

func TestLinksAndOddNames(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "b.xlsx")
	must(t, os.WriteFile(book, whole().Zip(), 0o400))
	link := filepath.Join(dir, "link.xlsx")
	must(t, os.Symlink(book, link))
	odd := filepath.Join(dir, "my 🕯 ספר "+strings.Repeat("x", 200)+".xlsx")
	must(t, os.Link(book, odd))
	first := mustOpen(t, book)
	for _, path := range []string{link, odd} {
		if f := mustOpen(t, path); strings.Join(dump(t, f), "\n") != wholeDump || f.Print != first.Print || f.Path != path {
			t.Errorf("%s: %+v", path, f)
		}
	}
	must(t, os.Symlink(filepath.Join(dir, "gone.xlsx"), filepath.Join(dir, "dangling.xlsx")))
	if got := keyOf(t, filepath.Join(dir, "dangling.xlsx")); !strings.HasPrefix(got, "missing") {
		t.Errorf("dangling link: fault %q", got)
	}
}

// The fingerprint is the start of the SHA-256 of the bytes; that of "abc" is
// ba7816bf... (FIPS 180-2, appendix B.1).
func TestPrint(t *testing.T) {
	f := mustOpen(t, file(t, "a.csv", []byte("abc")))
	if f.Print != "ba78-16bf" {
		t.Error(f.Print)
	}
}

func TestContextEndsReading(t *testing.T) {
	path := file(t, "book.xlsx", whole().Zip())
	ctx, cancel := context.WithCancel(context.Background())
	f, err := Open(ctx, path)
	must(t, err)
	cancel()
	if err := f.Sheets[0].Each(func(Row) error { return nil }); !errors.Is(err, context.Canceled) {
		t.Errorf("reading rows: %v", err)
	}
	if _, err := Open(ctx, path); !errors.Is(err, context.Canceled) {
		t.Errorf("opening: %v", err)
	}
}

func BenchmarkSalesRows(b *testing.B) {
	const n = 10_000
	var s strings.Builder
	for i := range n {
		fmt.Fprintf(&s, `<row r="%d"><c r="A%[1]d" s="1"><v>%[2]d</v></c><c r="B%[1]d" t="s"><v>%[3]d</v></c><c r="C%[1]d"><v>%[4]d</v></c><c r="D%[1]d"><v>%[5]d.5</v></c>`+
			`<c r="E%[1]d" t="s"><v>0</v></c><c r="F%[1]d" t="str"><v>O-%[1]d</v></c></row>`, i+1, 46000+i/100, i%2, i%7, i%30)
	}
	f, err := Open(context.Background(), file(b, "book.xlsx", whole().Set(gridtest.Sheet, sheetOf(s.String())).Zip()))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		got := 0
		if err := f.Sheets[0].Each(func(Row) error { got++; return nil }); err != nil || got != n {
			b.Fatal(got, err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/row")
}

// In whatever order a file is read, its fingerprint is that of all its bytes.
func TestPrintDoesNotDependOnTheOrderOfReading(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		data := rapid.SliceOfN(rapid.Byte(), 1, 400).Draw(rt, "bytes")
		data = bytes.Repeat(data, rapid.IntRange(1, 3*gap/len(data)).Draw(rt, "times"))
		f, err := os.Open(file(t, "a.xlsx", data))
		must(t, err)
		defer f.Close()
		before, err := f.Stat()
		must(t, err)
		h := newHashed(f, before)
		for range rapid.IntRange(0, 8).Draw(rt, "reads") {
			at := rapid.IntRange(0, len(data)-1).Draw(rt, "at")
			got := make([]byte, rapid.IntRange(1, len(data)).Draw(rt, "length"))
			n, err := h.ReadAt(got, int64(at))
			if want := data[at:min(at+len(got), len(data))]; !bytes.Equal(got[:n], want) || err != nil && err != io.EOF {
				rt.Fatalf("%d bytes and %v at %d", n, err, at)
			}
		}
		sum, err := h.finish(t.Context())
		if want := sha256.Sum256(data); err != nil || !bytes.Equal(sum, want[:]) {
			rt.Errorf("%x, %v, want %x", sum, err, want)
		}
	})
}

// A large workbook that is written to while it is read is a fault, whether or
// not its cells could be read.
func TestLargeBookThatChangesWhileItIsRead(t *testing.T) {
	before := keptFile
	t.Cleanup(func() { keptFile = before })
	keptFile = 100
	for name, change := range map[string]func(path string, data []byte) error{
		"cut":   func(path string, data []byte) error { return os.Truncate(path, int64(len(data)/2)) },
		"added": func(path string, data []byte) error { return os.WriteFile(path, append(data, 0), 0o600) },
		"saved": func(path string, data []byte) error { return os.Chtimes(path, time.Time{}, time.Unix(1, 0)) },
	} {
		data := whole().Zip()
		path := file(t, name+".xlsx", data)
		f := mustOpen(t, path)
		must(t, change(path, data))
		err := f.Sheets[0].Each(func(Row) error { return nil })
		var fault *Fault
		if err := f.Finish(t.Context(), err); !errors.As(err, &fault) || fault.Key != "changed" || fault.Path != path {
			t.Errorf("%s: %v", name, err)
		}
		f = mustOpen(t, file(t, name+"-other.xlsx", data))
		if err := f.Finish(t.Context(), io.ErrNoProgress); err != io.ErrNoProgress {
			t.Errorf("%s: of a file that did not change %v", name, err)
		}
	}
}

// interrupted does something when it is asked for its error the n-th time, as it is
// before each read.
type interrupted struct {
	context.Context
	n  int
	do func()
}

func (c *interrupted) Err() error {
	if c.n--; c.n == 0 {
		c.do()
	}
	return c.Context.Err()
}

// A large workbook that is cut at any time while it is opened and read has changed;
// it is not damaged.
func TestLargeBookIsCutAtAnyTime(t *testing.T) {
	before := keptFile
	t.Cleanup(func() { keptFile = before })
	keptFile = 100
	data, cuts := whole().Zip(), 0
	for cuts < 1000 {
		path := file(t, "a.xlsx", data)
		cut := false
		ctx := &interrupted{t.Context(), cuts + 1, func() {
			cut = true
			must(t, os.Truncate(path, int64(len(data)/3)))
		}}
		f, err := Open(ctx, path)
		if err == nil {
			err = f.Finish(ctx, f.Sheets[0].Each(func(Row) error { return nil }))
			f.Close()
		}
		if !cut {
			break
		}
		cuts++
		var fault *Fault
		if !errors.As(err, &fault) || fault.Key != "changed" || fault.Path != path {
			t.Errorf("cut before read %d: %v", cuts, err)
		}
	}
	if cuts < 10 || cuts == 1000 {
		t.Errorf("%d reads", cuts)
	}
}

// A large workbook is read from its file, with the same cells and faults.
func TestLargeBooksStayInTheirFile(t *testing.T) {
	before := keptFile
	t.Cleanup(func() { keptFile = before })
	book := whole().Zip()
	path := file(t, "book.xlsx", book)
	small := mustOpen(t, path)
	keptFile = 100
	large := mustOpen(t, path)
	if small.kept != nil || large.kept == nil {
		t.Fatalf("kept %v and %v", small.kept, large.kept)
	}
	if got := strings.Join(dump(t, large), "\n"); got != wholeDump {
		t.Errorf("%s:\n%s", path, got)
	}
	if err := large.Finish(t.Context(), nil); err != nil || large.Print != small.Print {
		t.Errorf("%s as %q, %v, want %q", path, large.Print, err, small.Print)
	}
	must(t, large.Close())
	if err := large.kept.Close(); err == nil {
		t.Error("the file was left open")
	}
	for name, c := range map[string]struct {
		data []byte
		key  string
	}{
		"cut.xlsx":     {book[:len(book)-30], "truncated"},
		"damaged.xlsx": {whole().Change(gridtest.Sheet, "<v>2</v>", "<v>").Zip(), "not-xml"},
		"values.csv":   {[]byte(strings.Repeat("a,b\n", 100)), ""},
		"zip.xlsx":     {append([]byte("PK\x03\x04"), make([]byte, 200)...), "truncated"},
	} {
		if key := keyOf(t, file(t, name, c.data)); key != c.key {
			t.Errorf("%s: fault %q, want %q", name, key, c.key)
		}
	}
}

package grid

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"
)

// values are the rows of a text file: number, then values in [brackets].
func values(t testing.TB, f *File) string {
	t.Helper()
	var b strings.Builder
	err := f.Sheets[0].Each(func(r Row) error {
		fmt.Fprint(&b, r.N)
		for _, c := range r.Cells {
			if c.Kind != Text && (c.Kind != Blank || c.Raw != "") {
				t.Errorf("row %d: %+v", r.N, c)
			}
			fmt.Fprintf(&b, "[%s]", c.Raw)
		}
		b.WriteByte('\n')
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTextFiles(t *testing.T) {
	for name, c := range map[string]struct{ file, text, want, separator string }{
		"commas":               {"a.csv", "Date,Qty\n2026-10-31,3\n", "1[Date][Qty]\n2[2026-10-31][3]\n", ","},
		"semicolons":           {"a.csv", "Date;Price\r\n2026-10-31;12,50\r\n2026-11-01;1.250,00\r\n", "1[Date][Price]\n2[2026-10-31][12,50]\n3[2026-11-01][1.250,00]\n", ";"},
		"tabs":                 {"a.txt", "Date\tNote\n2026-10-31\ta, b, c\n", "1[Date][Note]\n2[2026-10-31][a, b, c]\n", "tab"},
		"bars":                 {"a.csv", "Date|Qty\n2026-10-31|3", "1[Date][Qty]\n2[2026-10-31][3]\n", "|"},
		"what the file says":   {"a.csv", "sep=;\nDate,x;Qty\n2026-10-31;3", "1[Date,x][Qty]\n2[2026-10-31][3]\n", ";"},
		"one column":           {"a.csv", "Product\nAmber\n", "1[Product]\n2[Amber]\n", ","},
		"one column of tabs":   {"a.tsv", "Product\nAmber\n", "1[Product]\n2[Amber]\n", "tab"},
		"quotes":               {"a.csv", "a,b\n\"x,\"\"y\"\"\",\"line 1\nline 2\"\n\"\",z\n", "1[a][b]\n2[x,\"y\"][line 1\nline 2]\n3[][z]\n", ","},
		"an inch":              {"a.csv", "size,b\n8\" tin,2\n", "1[size][b]\n2[8\" tin][2]\n", ","},
		"separators in quotes": {"a.csv", "a;b\n\"1,2,3\";\"4,5,6\"\n\"1,2,3\";\"4,5,6\"\n", "1[a][b]\n2[1,2,3][4,5,6]\n3[1,2,3][4,5,6]\n", ";"},
		"blank rows":           {"a.csv", "a,b\n\n,,\n1,2,,\n", "1[a][b]\n4[1][2]\n", ","},
		"ragged rows":          {"a.csv", "a,b,c\n1\n1,2,3,4\n", "1[a][b][c]\n2[1]\n3[1][2][3][4]\n", ","},
		"old line ends":        {"a.csv", "a,b\r1,2\r", "1[a][b]\n2[1][2]\n", ","},
		"no line end":          {"a.csv", "a,b", "1[a][b]\n", ","},
		"text kept as it is":   {"a.csv", "a,b\n =1+1 ,_x0041_\n", "1[a][b]\n2[ =1+1 ][_x0041_]\n", ","},
		"an end mark":          {"a.csv", "a,b\n1,2\n\x1a", "1[a][b]\n2[1][2]\n", ","},
	} {
		f := mustOpen(t, file(t, c.file, []byte(c.text)))
		if got := values(t, f); got != c.want {
			t.Errorf("%s:\n%swant\n%s", name, got, c.want)
		}
		want := Note{"note-text", []any{"encoding", "UTF-8", "separator", c.separator}}
		if len(f.Notes) != 1 || f.Notes[0].Key != want.Key || !slices.Equal(f.Notes[0].Args, want.Args) {
			t.Errorf("%s: notes %v, want %v", name, f.Notes, want)
		}
		if f.Name != "a" || f.Sheets[0].Name != c.file || len(f.Sheets) != 1 {
			t.Errorf("%s: %+v", name, f)
		}
	}
}

func TestEncodings(t *testing.T) {
	const text = "Größe;Preis €\r\nKürbis 🕯;1\r\n"
	const old = "Größe;Preis €\r\nKürbis;1\r\n"
	as := func(e encoding.Encoding, s string) []byte {
		b, err := e.NewEncoder().Bytes([]byte(s))
		must(t, err)
		return b
	}
	for _, c := range []struct {
		name string
		data []byte
		text string
	}{
		{utf8Text, []byte(text), text},
		{utf8Text, []byte("\ufeff" + text), text},
		{utf16LE, as(unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), text), text},
		{utf16BE, as(unicode.UTF16(unicode.BigEndian, unicode.UseBOM), text), text},
		{utf16LE, as(unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), text), text},
		{utf16BE, as(unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), text), text},
		{windows1252, as(charmap.Windows1252, old), old},
	} {
		f := mustOpen(t, file(t, "a.csv", c.data))
		want := "1[Größe][Preis €]\n2[Kürbis 🕯][1]\n"
		if c.text == old {
			want = "1[Größe][Preis €]\n2[Kürbis][1]\n"
		}
		if got := values(t, f); got != want || f.Notes[0].Args[1] != c.name || f.Notes[0].Args[3] != ";" {
			t.Errorf("%s: %v\n%s", c.name, f.Notes, got)
		}
	}
}

func TestDamagedTextFiles(t *testing.T) {
	for name, c := range map[string]struct {
		text, key string
		line      int
	}{
		"a quote never closed":         {"a,b\n1,2\n\"3,4\n5,6\n", "bad-quote", 3},
		"text behind a quote":          {"a,b\n\"1\"x,2\n", "bad-quote", 2},
		"a quote that runs on":         {"a,b\n\"1,2\n3,\"4\"\n", "bad-quote", 2},
		"half a character":             {"é,é\né,é\n\xc3,1\n", "bad-encoding", 3},
		"half a character with a mark": {"\ufeffa,b\n1,\xff\n", "bad-encoding", 2},
		"no Windows character":         {"a,b\n\xfc,\x81\n", "bad-encoding", 2},
		"half a pair":                  {"\xff\xfea\x00\n\x00\x3d\xd8,\x00", "bad-encoding", 2},
		"half a unit":                  {"\xff\xfea\x00\n\x00b", "bad-encoding", 2},
		"too many values":              {"a\n" + strings.Repeat(",", maxColumns) + "1\n", "text-too-wide", 2},
	} {
		path := file(t, "a.csv", []byte(c.text))
		if got := keyOf(t, path); got != c.key {
			t.Errorf("%s: fault %q, want %q", name, got, c.key)
		}
		err := readAll(path)
		if f, ok := err.(*Fault); !ok || len(f.Args) < 2 || f.Args[0] != "line" || f.Args[1] != c.line {
			t.Errorf("%s: %+v, want line %d", name, err, c.line)
		}
	}
}

// What another program writes as CSV comes back, with its line ends made one kind.
func TestTextFilesComeBack(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		sep := rapid.SampledFrom([]rune(separators)).Draw(r, "separator")
		columns := rapid.IntRange(2, 5).Draw(r, "columns")
		var want strings.Builder
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		w.Comma = sep
		w.UseCRLF = rapid.Bool().Draw(r, "CRLF")
		for n := range rapid.IntRange(3, 10).Draw(r, "rows") {
			var record []string
			fmt.Fprint(&want, n+1)
			for range columns {
				s := "v" + rapid.StringOfN(rapid.RuneFrom([]rune("ab \"é.")), 0, 6, -1).Draw(r, "value")
				if n > 1 {
					s += rapid.SampledFrom([]string{"", "", ",", ";", "\t", "|"}).Draw(r, "mark")
				}
				record = append(record, s)
				fmt.Fprintf(&want, "[%s]", s)
			}
			want.WriteByte('\n')
			if err := w.Write(record); err != nil {
				r.Fatal(err)
			}
		}
		w.Flush()
		s := textSheet{text: b.String(), sep: byte(sep), line: 1}
		if got := values(t, &File{Sheets: []*Sheet{{rows: &s}}}); got != want.String() {
			r.Fatalf("%q:\n%swant\n%s", b.String(), got, want.String())
		}
	})
}

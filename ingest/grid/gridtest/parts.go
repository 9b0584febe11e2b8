// Package gridtest takes the package of an .xlsx apart and packs it again with
// one thing changed; only tests import it.
package gridtest

import (
	"archive/zip"
	"bytes"
	"io"
	"slices"
	"strings"
	"testing"
)

// The name spaces of a book's parts.
const (
	MainSpace = `http://schemas.openxmlformats.org/spreadsheetml/2006/main`
	RelSpace  = `http://schemas.openxmlformats.org/officeDocument/2006/relationships`
	PkgSpace  = `http://schemas.openxmlformats.org/package/2006/relationships`
)

// The usual names of a book's parts; Sheet is the first.
const (
	Rels     = "_rels/.rels"
	Book     = "xl/workbook.xml"
	BookRels = "xl/_rels/workbook.xml.rels"
	Sheet    = "xl/worksheets/sheet1.xml"
	Texts    = "xl/sharedStrings.xml"
	Styles   = "xl/styles.xml"
)

// Part is a part of a package.
type Part struct{ Name, Text string }

// Parts are those of a package, in order. Its methods leave it as it is.
type Parts []Part

// Of is the parts that a package holds; a test fails at what is none.
func Of(t testing.TB, data []byte) Parts {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var out Parts
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, Part{f.Name, string(text)})
	}
	return out
}

// Text is the text of a part; it panics where there is none of the name.
func (p Parts) Text(name string) string {
	for _, x := range p {
		if x.Name == name {
			return x.Text
		}
	}
	panic("no part " + name)
}

// Set has another text in a part, or a part more.
func (p Parts) Set(name, text string) Parts {
	out := slices.Clone(p)
	for i := range out {
		if out[i].Name == name {
			out[i].Text = text
			return out
		}
	}
	return out.With(name, text)
}

// With has one part more, even of a name that is there already.
func (p Parts) With(name, text string) Parts { return append(slices.Clip(p), Part{name, text}) }

// Change has another text for the first old one of a part; it panics where the
// part does not hold it.
func (p Parts) Change(name, old, text string) Parts {
	s := p.Text(name)
	if !strings.Contains(s, old) {
		panic(name + " has no " + old)
	}
	return p.Set(name, strings.Replace(s, old, text, 1))
}

// Without lacks a part.
func (p Parts) Without(name string) Parts {
	return slices.DeleteFunc(slices.Clone(p), func(x Part) bool { return x.Name == name })
}

// Zip packs the parts, deflated.
func (p Parts) Zip() []byte { return p.ZipBy(zip.Deflate) }

// ZipBy packs the parts by a method of archive/zip.
func (p Parts) ZipBy(method uint16) []byte {
	return pack(func(z *zip.Writer) {
		for _, x := range p {
			write(x.Text)(z.CreateHeader(&zip.FileHeader{Name: x.Name, Method: method}))
		}
	})
}

// Claimed packs the parts with one whose header says what the test wants of
// text, in place of that of the header's name.
func (p Parts) Claimed(h zip.FileHeader, text string) []byte {
	return pack(func(z *zip.Writer) {
		for _, x := range p.Without(h.Name) {
			write(x.Text)(z.Create(x.Name))
		}
		write(text)(z.CreateRaw(&h))
	})
}

func pack(fill func(*zip.Writer)) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	fill(z)
	if err := z.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// write writes a text into a part that was begun.
func write(text string) func(io.Writer, error) {
	return func(w io.Writer, err error) {
		if err == nil {
			_, err = io.WriteString(w, text)
		}
		if err != nil {
			panic(err)
		}
	}
}

package rows

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// salesPart is a sheet's part of as many rows: dates, shared texts, numbers.
func salesPart(n int) []byte {
	var b bytes.Buffer
	b.WriteString(`<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n" + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`)
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, `<row r="%d" spans="1:8"><c r="A%d" s="1"><v>%d</v></c><c r="B%d" t="s"><v>%d</v></c><c r="C%d" t="s"><v>%d</v></c><c r="D%d"><v>%d</v></c>`,
			i, i, 45000+i%700, i, i%40, i, i%8, i, 1+i%9)
		fmt.Fprintf(&b, `<c r="E%d" s="2"><v>%d.5</v></c><c r="F%d" t="s"><v>%d</v></c><c r="G%d" s="2"><v>0.75</v></c><c r="H%d" t="s"><v>%d</v></c></row>`,
			i, 8+i%20, i, i%5, i, i, i%300)
	}
	b.WriteString(`</sheetData></worksheet>`)
	return b.Bytes()
}

func BenchmarkSheet(b *testing.B) {
	data := salesPart(100_000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		rows := 0
		if _, err := Sheet(bytes.NewReader(data), func(b *Block) error { rows += len(b.Rows); return nil }); err != nil || rows != 100_000 {
			b.Fatal(rows, err)
		}
	}
}

// BenchmarkScan is the scanner alone, in one goroutine.
func BenchmarkScan(b *testing.B) {
	data := salesPart(100_000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	k := &block{buf: make([]byte, roomSize+readSize+padSize)}
	for b.Loop() {
		s, r, rows := &sheetScan{}, bytes.NewReader(data), 0
		for k.err = nil; k.err == nil; {
			k.read(r)
			k.Rows, k.cells, k.arena = k.Rows[:0], k.cells[:0], k.arena[:0]
			if err := s.block(k); err != nil {
				b.Fatal(err)
			}
			rows += len(k.Rows)
		}
		if rows != 100_000 {
			b.Fatal(rows)
		}
	}
}

func BenchmarkTexts(b *testing.B) {
	data := []byte(`<sst>` + strings.Repeat(`<si><t>Deep Red Amber</t></si>`, 500_000) + `</sst>`)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		n := 0
		if err := Texts(bytes.NewReader(data), func([]byte) error { n++; return nil }); err != nil || n != 500_000 {
			b.Fatal(n, err)
		}
	}
}

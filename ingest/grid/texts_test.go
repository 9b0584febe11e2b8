package grid

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"pourbook/ingest/grid/gridtest"
)

func textsOf(all ...string) *texts {
	var t texts
	for _, s := range all {
		t.add([]byte(s))
	}
	t.seal()
	return &t
}

// Texts come back as they were, across the chunks in which they are held; those
// that no cell may hold are only marked.
func TestSharedTextsComeBack(t *testing.T) {
	all := []string{"", "_x0041_b", strings.Repeat("日", maxText), strings.Repeat("a", maxText+1), strings.Repeat("😀", maxText/2+1)}
	for i := range 20_000 {
		all = append(all, fmt.Sprint("text ", i))
	}
	kept := textsOf(all...)
	if kept.len() != len(all) || len(kept.chunks) < 3 {
		t.Fatalf("%d texts in %d chunks", kept.len(), len(kept.chunks))
	}
	for i, want := range all {
		long := i == 3 || i == 4
		if kept.tooLong(i) != long {
			t.Errorf("text %d too long: %t", i, !long)
		}
		if !long && kept.text(i) != unescape(want) {
			t.Errorf("text %d: %.40q, want %.40q", i, kept.text(i), want)
		}
	}
}

// A cell that refers to a text that is too long is a fault; one that is not
// referred to is none, whoever reads.
func TestLongSharedTexts(t *testing.T) {
	items := `<sst xmlns="` + gridtest.MainSpace + `"><si><t>a</t></si><si><t>` + strings.Repeat("a", maxText+1) + `</t></si></sst>`
	book := whole().Set(gridtest.Texts, items)
	if key := keyOf(t, file(t, "long.xlsx", book.Zip())); key != "text-too-long" {
		t.Errorf("fault %q", key)
	}
	unused := book.Set(gridtest.Sheet, sheetOf(`<row r="1"><c r="A1" t="s"><v>0</v></c></row>`))
	if key := keyOf(t, file(t, "unused.xlsx", unused.Zip())); key != "" {
		t.Errorf("fault %q", key)
	}
}

// Half a million shared texts take little more room than their bytes.
func TestSharedTextsTakeLittleRoom(t *testing.T) {
	const n = 500_000
	var items strings.Builder
	items.WriteString(`<sst xmlns="` + gridtest.MainSpace + `">`)
	bytes := 0
	for i := range n {
		text := fmt.Sprintf("customer %d, ordered at the market", int64(i)*7919)
		bytes += len(text)
		items.WriteString(`<si><t>` + text + `</t></si>`)
	}
	items.WriteString(`</sst>`)
	p, err := packOf(whole().Set(gridtest.Texts, items.String()).Zip())
	must(t, err)
	used := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before := used()
	kept := p.scanStrings(gridtest.Texts)
	after := used()
	if kept == nil || kept.len() != n || kept.text(n-1) != fmt.Sprintf("customer %d, ordered at the market", int64(n-1)*7919) {
		t.Fatal("not scanned")
	}
	if room := int(after - before); room > bytes+bytes/2+1<<20 {
		t.Errorf("%d bytes of text take %d", bytes, room)
	}
	runtime.KeepAlive(kept)
}

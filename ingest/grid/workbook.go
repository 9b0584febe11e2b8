package grid

import (
	"context"
	"strings"

	"pourbook/compute/cell"
)

// workbook is the book's own part.
type workbook struct {
	Properties struct {
		Date1904 string `xml:"date1904,attr"`
	} `xml:"workbookPr"`
	Calculation struct {
		Mode string `xml:"calcMode,attr"`
	} `xml:"calcPr"`
	External []struct{} `xml:"externalReferences>externalReference"`
	Sheets   []struct {
		Name  string `xml:"name,attr"`
		State string `xml:"state,attr"`
		ID    string `xml:"id,attr"`
	} `xml:"sheets>sheet"`
}

// source is what reading a sheet needs of its book.
type source struct {
	*pack
	path     string
	date1904 bool
	formats  []Format // by style
	textPart string   // the part of the shared texts, if any
	strings  func() (*texts, error)
}

func (f *File) openBook(ctx context.Context, c *content) error {
	p, err := newPack(ctx, c.reader(), c.size)
	if err != nil {
		return err
	}
	main, err := p.findBook()
	if err != nil {
		return err
	}
	var w workbook
	if err := p.decode(main, &w); err != nil {
		return err
	}
	rels, err := p.relationsOf(main)
	if err != nil {
		return err
	}
	src := &source{pack: p, path: f.Path, date1904: isTrue(w.Properties.Date1904)}
	if err := src.prepare(rels); err != nil {
		return err
	}
	if err := f.addSheets(src, w, rels); err != nil {
		return err
	}
	if len(w.External) > 0 {
		f.note("note-external")
	}
	if w.Calculation.Mode == "manual" {
		f.note("note-manual")
	}
	return nil
}

func isTrue(s string) bool { return s == "1" || s == "true" || s == "on" }

// findBook is the name of the workbook's part, or the fault of another kind of file.
func (p *pack) findBook() (string, error) {
	rels, err := p.relationsOf("")
	if err != nil {
		return "", err
	}
	main, ok := rels.one("officeDocument")
	switch {
	case strings.HasSuffix(strings.ToLower(main), ".bin"):
		return "", fault("xlsb", nil)
	case !ok && p.has("xl/workbook.bin"):
		return "", fault("xlsb", nil)
	case !ok && p.isOpenDocument():
		return "", fault("ods", nil)
	case !ok && (p.has("Index/Document.iwa") || p.has("Index.zip")):
		return "", fault("numbers", nil)
	case !ok, strings.HasPrefix(main, "word/"), strings.HasPrefix(main, "ppt/"):
		return "", fault("no-book", nil)
	case !p.has(main):
		return "", fault("part-missing", nil, "part", main)
	}
	return main, nil
}

func (p *pack) isOpenDocument() bool {
	data, err := p.small("mimetype")
	return err == nil && strings.HasPrefix(string(data), "application/vnd.oasis.opendocument.spreadsheet")
}

// prepare reads what the cells of all sheets refer to.
func (s *source) prepare(rels relations) error {
	s.strings = func() (*texts, error) { return nil, fault("no-strings", nil) }
	if name, ok := rels.one("sharedStrings"); ok {
		if !s.has(name) {
			return fault("part-missing", nil, "part", name)
		}
		if s.parts[partKey(name)].UncompressedSize64 > maxTexts {
			return fault("too-much", nil, "limit", maxTexts>>20)
		}
		s.textPart, s.strings = name, s.sharedStrings(name)
	}
	name, ok := rels.one("styles")
	if !ok {
		s.formats = []Format{PlainFormat}
		return nil
	}
	data, err := s.small(name)
	if err != nil {
		return err
	}
	if err := wellFormed(data, name); err != nil {
		return err
	}
	s.formats, err = readFormats(data)
	if err != nil {
		return fault("part-damaged", err, "part", name)
	}
	return nil
}

func (f *File) addSheets(src *source, w workbook, rels relations) error {
	seen, done := map[string]bool{}, map[string]bool{}
	for _, s := range w.Sheets {
		r, ok := rels[s.ID]
		if ok && r.kind != "worksheet" {
			continue
		}
		if !ok || !src.has(r.target) {
			return fault("sheet-missing", nil, "sheet", s.Name)
		}
		if seen[cell.Fold(s.Name)] {
			return fault("sheet-twice", nil, "sheet", s.Name)
		}
		if done[partKey(r.target)] {
			return fault("part-twice", nil, "part", r.target)
		}
		seen[cell.Fold(s.Name)] = true
		part := &sheetPart{source: src, name: s.Name, target: r.target}
		if err := part.scanMerges(); err != nil {
			return err
		}
		done[partKey(r.target)] = true
		f.Sheets = append(f.Sheets, &Sheet{
			Name: s.Name, Hidden: s.State == "hidden" || s.State == "veryHidden",
			Merged: part.merged, rows: part,
		})
	}
	if len(f.Sheets) == 0 {
		return fault("no-sheets", nil)
	}
	if src.textPart != "" && src.late(src.textPart) {
		done[partKey(src.textPart)] = true
	}
	return src.check(done)
}

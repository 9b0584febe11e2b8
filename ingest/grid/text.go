package grid

import (
	"path/filepath"
	"strings"
)

// openText makes a sheet of a text file of values.
func (f *File) openText(data []byte, ext string) error {
	text, encoding, err := decodeText(data)
	if err != nil {
		return err
	}
	if i := strings.IndexByte(text, 0); i >= 0 {
		return fault("unknown", nil)
	}
	text = strings.TrimSuffix(text, "\x1a")
	sep, text, line := separator(text, ext)
	t := &textSheet{text: text, sep: sep, line: line, path: f.Path, left: len(text)}
	if err := t.each(func(Row) error { return nil }); err != nil {
		return err
	}
	f.note("note-text", "encoding", encoding, "separator", separatorNames[sep])
	f.Sheets = []*Sheet{{Name: filepath.Base(f.Path), rows: t}}
	return nil
}

const separators = ",;\t|"

var separatorNames = map[byte]string{',': ",", ';': ";", '\t': "tab", '|': "|"}

// separator tells what parts the values: a first line "sep=;" says so (it is no
// row), else the character that parts the first records most evenly. It gives
// the text that is left and the number of its first line.
func separator(text, ext string) (sep byte, rest string, line int) {
	if first, after, _ := strings.Cut(text, "\n"); strings.HasPrefix(strings.ToLower(first), "sep=") {
		if s := strings.TrimRight(first[len("sep="):], "\r"); len(s) == 1 && strings.Contains(separators, s) {
			return s[0], after, 2
		}
	}
	best, bestScore := byte(','), 0.0
	if ext == ".tsv" || ext == ".tab" {
		best = '\t'
	}
	for _, c := range []byte(separators) {
		if s := evenness(text, c); s > bestScore {
			best, bestScore = c, s
		}
	}
	return best, text, 1
}

// evenness is the share of the first records with the usual number of values,
// and a little more for more of them; 0 when the usual number is 1.
func evenness(text string, sep byte) float64 {
	const look = 100
	counts := map[int]int{}
	records := 0
	t := textSheet{text: text, sep: sep, line: 1}
	for records < look {
		fields, ok, err := t.record(nil)
		if err != nil || !ok {
			break
		}
		if len(fields) > 1 || len(fields) == 1 && fields[0] != "" {
			counts[len(fields)]++
			records++
		}
	}
	usual, times := 1, 0
	for n, k := range counts {
		if k > times || k == times && n > usual {
			usual, times = n, k
		}
	}
	if usual == 1 || records == 0 {
		return 0
	}
	return float64(times)/float64(records) + float64(min(usual, 50))/1000
}

// textSheet reads the records of a text file. A quoted value may hold
// separators, line ends and doubled quotes.
type textSheet struct {
	text string
	sep  byte
	line int // of text's first character
	path string
	left int // bytes that are not yet read
}

// each gives out a row for every record with a value; rows are counted as a
// spreadsheet that opens the file counts them.
func (t *textSheet) each(f func(Row) error) error {
	s := *t
	var fields []string
	var row Row
	for n := 1; ; n++ {
		var ok bool
		var err error
		if fields, ok, err = s.record(fields[:0]); err != nil {
			return at(t.path, err)
		}
		t.left = len(s.text)
		if !ok {
			return nil
		}
		if n > maxRows {
			return at(t.path, fault("text-too-tall", nil, "limit", maxRows))
		}
		if len(fields) > maxColumns {
			return at(t.path, fault("text-too-wide", nil, "line", s.line-1, "limit", maxColumns))
		}
		row.N, row.Cells = n, row.Cells[:0]
		for _, v := range fields {
			row.Cells = append(row.Cells, Cell{Kind: Text, Raw: v})
		}
		for i := range row.Cells {
			if row.Cells[i].Raw == "" {
				row.Cells[i].Kind = Blank
			}
		}
		for i := len(row.Cells); i > 0 && strings.TrimSpace(row.Cells[i-1].Raw) == ""; i-- {
			row.Cells = row.Cells[:i-1]
		}
		if len(row.Cells) == 0 {
			continue
		}
		if err := f(row); err != nil {
			return err
		}
	}
}

func (t *textSheet) eachRaw(f func(*RawRow) error) error { return t.each(fullOnly(f)) }

// sharedText is none: a text file has no shared texts.
func (t *textSheet) sharedTexts() int      { return 0 }
func (t *textSheet) sharedText(int) string { return "" }

// record reads the next record's values into fields.
func (t *textSheet) record(fields []string) (out []string, ok bool, err error) {
	if t.text == "" {
		return nil, false, nil
	}
	for {
		var value string
		if value, err = t.value(); err != nil {
			return nil, false, err
		}
		fields = append(fields, value)
		if t.text == "" {
			return fields, true, nil
		}
		c := t.text[0]
		t.text = t.text[1:]
		if c == t.sep {
			if t.text == "" {
				return append(fields, ""), true, nil
			}
			continue
		}
		if c == '\r' && strings.HasPrefix(t.text, "\n") {
			t.text = t.text[1:]
		}
		t.line++
		return fields, true, nil
	}
}

// value reads up to the separator or the end of the line. A quote inside an
// unquoted value is a character like any other: 8" tin.
func (t *textSheet) value() (string, error) {
	if strings.HasPrefix(t.text, `"`) {
		return t.quoted()
	}
	i := 0
	for i < len(t.text) && t.text[i] != t.sep && t.text[i] != '\n' && t.text[i] != '\r' {
		i++
	}
	v := t.text[:i]
	t.text = t.text[i:]
	return v, nil
}

func (t *textSheet) quoted() (string, error) {
	start := t.line
	var b strings.Builder
	for rest := t.text[1:]; ; {
		inside, after, closed := strings.Cut(rest, `"`)
		if !closed || b.Len() > 4*maxText {
			return "", fault("bad-quote", nil, "line", start)
		}
		b.WriteString(inside)
		t.line += lineAt([]byte(inside), len(inside)) - 1
		if strings.HasPrefix(after, `"`) {
			b.WriteByte('"')
			rest = after[1:]
			continue
		}
		if after != "" && after[0] != t.sep && after[0] != '\n' && after[0] != '\r' {
			return "", fault("bad-quote", nil, "line", start)
		}
		t.text = after
		return b.String(), nil
	}
}

package ingest

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/ingest/grid"
	"pourbook/templates"
)

// wrong is a fault of a layout file at a line.
func wrong(n ast.Node, read string, known ...string) *grid.Fault {
	line := 1
	if n != nil && n.GetToken() != nil {
		line = n.GetToken().Position.Line
	}
	return &grid.Fault{Key: "layout-content", Args: []any{"line", line, "read", read, "known", strings.Join(known, ", ")}}
}

func parseLayout(data []byte) (*Layout, *grid.Fault) {
	f, err := parser.ParseBytes(data, 0)
	if err != nil {
		line, what := 1, err.Error()
		var s *yaml.SyntaxError
		if errors.As(err, &s) {
			what = s.Message
			if s.Token != nil {
				line = s.Token.Position.Line
			}
		}
		return nil, &grid.Fault{Key: "layout-yaml", Args: []any{"line", line, "what", what}}
	}
	l := &Layout{}
	for _, d := range f.Docs {
		if d.Body == nil {
			continue
		}
		fault := eachEntry(d.Body, func(key string, k, v ast.Node) *grid.Fault {
			switch key {
			case "book":
				return nil
			case "sheets":
				return l.readSheets(v)
			}
			return wrong(k, key, "book", "sheets")
		})
		if fault != nil {
			return nil, fault
		}
	}
	l.remarks(strings.Split(string(data), "\n"))
	return l, nil
}

// remarks takes in what the maker has written behind headings that are decided.
func (l *Layout) remarks(lines []string) {
	gone := templates.Text("layout.heading-gone")
	for i := range l.Sheets {
		for k := range l.Sheets[i].Headings {
			if h := &l.Sheets[i].Headings[k]; h.Field != Open && h.line <= len(lines) {
				h.Note = remark(lines[h.line-1])
				if h.Note == gone {
					h.Note = ""
				}
			}
		}
	}
}

// remark is the comment at the end of a line, "" for none. A # in quotes, or
// without a space before it, begins none.
func remark(line string) string {
	var quote, before rune
	for i, r := range line {
		switch {
		case quote != 0:
			if r == quote && (before != '\\' || quote == '\'') {
				quote = 0
			}
		case (r == '"' || r == '\'') && (before == ' ' || before == 0):
			quote = r
		case r == '#' && before == ' ':
			return strings.TrimSpace(line[i+1:])
		}
		before = r
	}
	return ""
}

// eachEntry gives a mapping's entries in order.
func eachEntry(n ast.Node, f func(key string, k, v ast.Node) *grid.Fault) *grid.Fault {
	m, ok := n.(*ast.MappingNode)
	if !ok {
		if _, blank := n.(*ast.NullNode); blank || n == nil {
			return nil
		}
		return wrong(n, n.GetToken().Value, "name: value")
	}
	for _, e := range m.Values {
		if fault := f(e.Key.GetToken().Value, e.Key, e.Value); fault != nil {
			return fault
		}
	}
	return nil
}

func eachItem(n ast.Node, f func(ast.Node) *grid.Fault) *grid.Fault {
	s, ok := n.(*ast.SequenceNode)
	if !ok {
		if _, blank := n.(*ast.NullNode); blank {
			return nil
		}
		return wrong(n, n.GetToken().Value, "- ...")
	}
	for _, v := range s.Values {
		if fault := f(v); fault != nil {
			return fault
		}
	}
	return nil
}

func (l *Layout) readSheets(n ast.Node) *grid.Fault {
	return eachItem(n, func(v ast.Node) *grid.Fault {
		s := SheetLayout{line: v.GetToken().Position.Line}
		var later []func() *grid.Fault // what needs the table
		fault := eachEntry(v, func(key string, k, v ast.Node) *grid.Fault {
			text := v.GetToken().Value
			switch key {
			case "sheet":
				s.Sheet = text
			case "table":
				return s.readTable(v, text)
			case "row":
				n, ok := number(text)
				if !ok {
					return wrong(v, text, "1", "2", "3")
				}
				s.Row = n
			case "columns":
				return s.readColumns(v, text)
			case "headings":
				later = append(later, func() *grid.Fault { return s.readHeadings(v) })
			case "fractions":
				return eachItem(v, func(x ast.Node) *grid.Fault {
					s.Fractions = append(s.Fractions, x.GetToken().Value)
					return nil
				})
			default:
				return wrong(k, key, "sheet", "table", "row", "columns", "headings", "fractions")
			}
			return nil
		})
		for _, f := range later {
			if fault == nil {
				fault = f()
			}
		}
		if fault == nil && s.Sheet == "" {
			fault = wrong(v, "-", "sheet")
		}
		l.Sheets = append(l.Sheets, s)
		return fault
	})
}

func (s *SheetLayout) readTable(n ast.Node, text string) *grid.Fault {
	switch normal(text) {
	case None, "":
		s.Table = None
		if text == Open {
			s.Table = ""
		}
		return nil
	}
	for _, t := range book.TableNames {
		if normal(string(t)) == normal(text) {
			s.Table = string(t)
			return nil
		}
	}
	return wrong(n, text, append(tableNames(), None)...)
}

// readColumns reads columns such as A-F.
func (s *SheetLayout) readColumns(n ast.Node, text string) *grid.Fault {
	from, to, several := strings.Cut(strings.ToUpper(text), "-")
	if !several {
		to = from
	}
	s.From, s.To = columnOf(strings.TrimSpace(from)), columnOf(strings.TrimSpace(to))
	if s.From == 0 || s.To < s.From {
		return wrong(n, text, "A-F", "H-K")
	}
	return nil
}

// columnOf is the number of a column from 1; 0 for what is none.
func columnOf(letters string) int {
	n := 0
	for _, r := range letters {
		if r < 'A' || r > 'Z' || n > 26*26*26 {
			return 0
		}
		n = n*26 + int(r-'A') + 1
	}
	return n
}

func tableNames() []string {
	var out []string
	for _, t := range book.TableNames {
		out = append(out, string(t))
	}
	return out
}

func (s *SheetLayout) readHeadings(n ast.Node) *grid.Fault {
	return eachEntry(n, func(key string, k, v ast.Node) *grid.Fault {
		text := v.GetToken().Value
		h := HeadingLayout{Heading: key, Field: text, line: k.GetToken().Position.Line}
		spec := specOf(book.TableName(s.Table))
		switch {
		case text == Open:
		case normal(text) == None || normal(text) == "":
			h.Field = None
		case spec == nil:
			return wrong(v, text, None)
		default:
			i := slices.IndexFunc(spec.fields(), func(f string) bool { return normal(f) == normal(text) })
			if i < 0 {
				return wrong(v, text, append(spec.fields(), None)...)
			}
			h.Field = spec.fields()[i]
		}
		s.Headings = append(s.Headings, h)
		return nil
	})
}

// Text is the layout as a file, with comments for the maker. book is the name
// of the book's file.
func (l *Layout) Text(book string) []byte {
	var b strings.Builder
	for line := range strings.SplitSeq(templates.Text("layout.head", "book", book), " / ") {
		fmt.Fprintf(&b, "# %s\n", line)
	}
	fmt.Fprintf(&b, "book: %s\nsheets:\n", scalar(book))
	for _, s := range l.Sheets {
		if s.dropped {
			continue
		}
		fmt.Fprintf(&b, "- sheet: %s\n", scalar(s.Sheet))
		if s.Table == "" {
			s.Table = Open
		}
		fmt.Fprintf(&b, "  table: %s\n", scalar(s.Table))
		if s.Row > 0 {
			fmt.Fprintf(&b, "  row: %d\n", s.Row)
		}
		if s.To > 0 {
			fmt.Fprintf(&b, "  columns: %s-%s\n", cell.Column(s.From), cell.Column(s.To))
		}
		if len(s.Headings) > 0 {
			fmt.Fprintln(&b, "  headings:")
		}
		for _, h := range s.Headings {
			fmt.Fprintf(&b, "    %s: %s", scalar(h.Heading), scalar(h.Field))
			if h.Note != "" {
				fmt.Fprintf(&b, " # %s", strings.Join(strings.Fields(h.Note), " "))
			}
			fmt.Fprintln(&b)
		}
		if s.note != "" {
			fmt.Fprintf(&b, "  # %s\n", strings.Join(strings.Fields(s.note), " "))
		}
		if len(s.Fractions) > 0 {
			fmt.Fprintln(&b, "  fractions:")
		}
		for _, f := range s.Fractions {
			fmt.Fprintf(&b, "  - %s\n", scalar(f))
		}
	}
	return []byte(b.String())
}

// scalar is a text as YAML writes it: in quotes unless it is plain words.
func scalar(s string) string {
	plain := s != "" && !slices.Contains([]string{"yes", "no", "true", "false", "null", "on", "off", "y", "n"}, strings.ToLower(s))
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || !strings.ContainsRune(" 0123456789-_.%()", r) || i == len(s)-1 && r == ' ') {
			plain = false
		}
	}
	if plain {
		return s
	}
	return fmt.Sprintf("%q", s)
}

package report

import (
	"slices"

	"pourbook/compute/book"
	"pourbook/report/xlsx"
	"pourbook/templates"
)

// StarterBook is a workbook to fill in, and how many tables it has; minimal
// keeps the tables and columns that a first costing needs. An error is a fault
// of the program.
func StarterBook(minimal bool) (data []byte, tables int, err error) {
	sheets := templates.StarterBook()
	for i := range sheets {
		if sheets[i].Name == string(book.TSettings) {
			sheets[i].Rows = settingRows()
		}
	}
	if minimal {
		sheets = least(sheets)
	}
	data, err = xlsx.Book(sheets, templates.Text("starter.title"), templates.Text("starter.shop"))
	return data, len(sheets), err
}

// settingRows is a row per setting: its name, a blank value, what it is.
func settingRows() [][]string {
	var rows [][]string
	for _, d := range book.Defs {
		what := templates.Text("help.setting." + string(d.Name))
		rows = append(rows, []string{
			string(d.Name), "", templates.Text("starter.setting", "what", what, "default", DefaultOf(d)),
		})
	}
	return rows
}

// DefaultOf is a setting's default in words.
func DefaultOf(d book.Def) string {
	if key := "help.default." + string(d.Name); templates.Has(key) {
		return templates.Text(key)
	}
	return d.Default
}

// least keeps the sheets and columns of the smallest starter book.
func least(sheets []templates.Sheet) []templates.Sheet {
	var out []templates.Sheet
	for _, s := range sheets {
		if len(s.Least) == 0 {
			continue
		}
		full := s.Head
		s.Head = s.Least
		rows := make([][]string, len(s.Rows))
		for i, row := range s.Rows {
			for _, name := range s.Least {
				rows[i] = append(rows[i], row[slices.Index(full, name)])
			}
		}
		s.Rows = rows
		out = append(out, s)
	}
	return out
}

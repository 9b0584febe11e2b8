package report

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/check"
	"pourbook/compute/problem"
	"pourbook/report/show"
	"pourbook/report/words"
	"pourbook/templates"
)

// CheckResult is what a check found, as JSON.
type CheckResult struct {
	Schema string       `json:"schema"`
	Book   string       `json:"book"`
	Tables []checkTable `json:"tables"`
	Jobs   []checkJob   `json:"jobs"`
}

type checkTable struct {
	Table   book.TableName `json:"table"`
	Sheet   string         `json:"sheet"`
	Cell    string         `json:"cell"`
	Rows    int            `json:"rows"`
	LeftOut int            `json:"left_out"`
	Fields  []checkField   `json:"fields"`
	Unread  []checkField   `json:"unread,omitempty"`
}

type checkField struct {
	Field   string `json:"field,omitempty"`
	Heading string `json:"heading"`
	Cell    string `json:"cell"`
}

type checkJob struct {
	Job      string           `json:"job"`
	Lacks    []book.TableName `json:"lacks"`
	Without  []book.TableName `json:"without"`
	Defaults []book.Setting   `json:"defaults"`
}

// Check is the result of a check, for JSON.
func Check(b *book.Book) CheckResult {
	r := CheckResult{Schema: "pourbook.check/1", Book: b.Name, Tables: []checkTable{}}
	for _, t := range b.Tables {
		ct := checkTable{Table: t.Table, Sheet: t.Heading.Sheet, Cell: t.Heading.Name(), Rows: t.Rows, LeftOut: t.LeftOut, Fields: []checkField{}}
		for _, f := range t.Fields {
			cf := checkField{Field: f.Name, Heading: f.Heading, Cell: f.At.Name()}
			if f.Name == "" {
				ct.Unread = append(ct.Unread, cf)
			} else {
				ct.Fields = append(ct.Fields, cf)
			}
		}
		r.Tables = append(r.Tables, ct)
	}
	for _, j := range check.Jobs(b) {
		r.Jobs = append(r.Jobs, checkJob{j.Name, list(j.Lacks), list(j.Without), list(j.Defaults)})
	}
	return r
}

func list[T any](s []T) []T { return append([]T{}, s...) }

// Ink says whether a terminal shows color, which only repeats what words say.
type Ink bool

// alarm is text in the color of a severity.
func (k Ink) alarm(of problem.Severity, text string) string {
	color := map[problem.Severity]string{problem.Error: "31", problem.Warning: "33"}[of]
	if !k || color == "" {
		return text
	}
	return "\x1b[1;" + color + "m" + text + "\x1b[0m"
}

// CheckSummary is the result of a check for people: what was read, every
// problem, errors first, and what the jobs lack.
func CheckSummary(w io.Writer, b *book.Book, problems problem.List, ink Ink) {
	tables(w, b)
	fmt.Fprintln(w)
	Problems(w, b, problems, ink)
	fmt.Fprintln(w)
	for _, j := range check.Jobs(b) {
		hanging(w, jobLine(j))
	}
}

// Wrong reports whether there are errors or warnings among problems.
func Wrong(problems problem.List) bool {
	return slices.ContainsFunc(problems.Sorted(), func(p problem.Problem) bool { return p.Severity != problem.Note })
}

// Problems is what check says of problems, consequences behind their causes.
func Problems(w io.Writer, b *book.Book, problems problem.List, ink Ink) {
	c := show.In(b.Settings.Text(book.Currency).V)
	groups, follow := causes(b, problems)
	if len(groups) == 0 {
		fmt.Fprintln(w, templates.Text("summary.clean"))
	}
	for _, g := range groups {
		if g.Severity != problem.Error {
			follow = said(w, follow, c, ink)
		}
		alarm(w, g.Severity, problemLine(g, c), ink)
	}
	said(w, follow, c, ink)
}

// said prints consequences, which are then told.
func said(w io.Writer, follow []consequence, c show.Currency, ink Ink) []consequence {
	for _, f := range follow {
		alarm(w, problem.Error, f.line(c), ink)
	}
	return nil
}

// alarm prints a line that begins with the word of a severity.
func alarm(w io.Writer, of problem.Severity, text string, ink Ink) {
	var b strings.Builder
	hanging(&b, text)
	word := strings.TrimSpace(templates.Text("severity." + string(of)))
	rest, ok := strings.CutPrefix(b.String(), word)
	if ok {
		word = ink.alarm(of, word)
	} else {
		word = ""
	}
	fmt.Fprint(w, word+rest)
}

func tables(w io.Writer, b *book.Book) {
	fmt.Fprintln(w, words.Plain(templates.Text("check.read", "book", b.Name, "n", len(b.Tables))))
	var rows [][]string
	for _, t := range b.Tables {
		row := []string{string(t.Table), t.Heading.String(), templates.Text("check.rows", "n", t.Rows)}
		if t.LeftOut > 0 {
			row = append(row, templates.Text("check.left-out", "n", t.LeftOut))
		}
		rows = append(rows, row)
	}
	table(w, rows)
	for _, t := range b.Tables {
		var unread []string
		for _, f := range t.Fields {
			if f.Name == "" && !slices.Contains(templates.List("check.remarks"), strings.ToLower(f.Heading)) {
				unread = append(unread, strconv.Quote(f.Heading)+" ("+f.At.Name()+")")
			}
		}
		if len(unread) > 0 {
			hanging(w, "  "+templates.Text("check.unread", "table", t.Table, "headings", strings.Join(unread, ", ")))
		}
	}
}

// hanging writes text in lines of a terminal's width, those after the first
// set in.
func hanging(w io.Writer, text string) {
	const indent = "    "
	text = words.Plain(text)
	lead := text[:len(text)-len(strings.TrimLeft(text, " "))]
	for i, line := range wrap(text, helpWidth-len(indent)) {
		if i > 0 {
			lead = indent
		}
		fmt.Fprintln(w, lead+line)
	}
}

// problemLine is a group of problems on one line.
func problemLine(g words.Group, c show.Currency) string {
	s := templates.Text("severity."+string(g.Severity)) + "  " + Line(g.Problem)
	switch {
	case g.More > 0 && g.Column == "":
		s += " " + templates.Text("check.more.sheets", "n", g.More)
	case g.More > 0:
		s += " " + templates.Text("check.more", "n", g.More, "column", g.Column)
	}
	if g.Money != 0 {
		s += " " + templates.Text("check.money", "amount", c.Of(g.Money))
	}
	return s
}

// mostDefaults is how many settings a job's line names.
const mostDefaults = 4

func jobLine(j check.Job) string {
	if len(j.Lacks) > 0 {
		return templates.Text("check.job.lacks", "job", j.Name, "tables", join(j.Lacks))
	}
	s := templates.Text("check.job.ready", "job", j.Name)
	if len(j.Without) > 0 {
		s += " " + templates.Text("check.job.without", "tables", join(j.Without))
	}
	switch more := len(j.Defaults) - mostDefaults; {
	case more > 0:
		s += " " + templates.Text("check.job.defaults.more", "settings", defaults(j.Defaults[:mostDefaults]), "n", more)
	case len(j.Defaults) > 0:
		s += " " + templates.Text("check.job.defaults", "settings", defaults(j.Defaults))
	}
	return s
}

// defaults are settings with the values that stand in for them.
func defaults(all []book.Setting) string {
	var out []string
	for _, name := range all {
		d, _ := book.Find(name)
		out = append(out, templates.Text("check.job.default", "setting", name, "value", DefaultOf(d)))
	}
	return strings.Join(out, ", ")
}

func join[T ~string](s []T) string {
	out := make([]string, len(s))
	for i, x := range s {
		out[i] = string(x)
	}
	return strings.Join(out, ", ")
}

// FitSummary shows what was recognised as what: each table, how sure that is,
// and those of its headings that are not simply their field's name.
func FitSummary(w io.Writer, found []book.Table) {
	for _, t := range found {
		var rows [][]string
		for _, f := range t.Fields {
			switch {
			case f.Name == "":
				rows = append(rows, []string{strconv.Quote(f.Heading), templates.Text("fit.not-read")})
			case cell.Fold(f.Heading) != f.Name:
				rows = append(rows, []string{strconv.Quote(f.Heading), templates.Text("fit.field", "field", f.Name)})
			}
		}
		fmt.Fprintln(w, words.Plain(templates.Text("fit.table", "table", t.Table, "place", t.Heading, "sure", show.Share(t.Sure, 0),
			"n", len(t.Fields), "plain", len(t.Fields)-len(rows))))
		table(w, rows)
	}
}

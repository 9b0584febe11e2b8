package ingest

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pourbook/compute/problem"
	"pourbook/ingest/grid"
)

// withLayout writes a book and its layout file.
func withLayout(t *testing.T, layout string, sheets ...sheet) string {
	t.Helper()
	path := writeBook(t, sheets...)
	if err := os.WriteFile(LayoutPath(path), []byte("sheets:\n"+layout), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestHeadingsAreFoundByWhatStandsThere(t *testing.T) {
	for name, c := range map[string]struct {
		names, row []string
		want       map[int]int
	}{
		"letter by letter": {[]string{"Piece", "Pcs"}, []string{"Pcs", "Piece"}, map[int]int{0: 1, 1: 0}},
		"one of two":       {[]string{"Pcs"}, []string{"Piece", "Pcs"}, map[int]int{1: 0}},
		"case and spaces":  {[]string{"PIECE ", "Pcs"}, []string{"pcs", "Piece"}, map[int]int{0: 1, 1: 0}},
		"same when normal": {[]string{"Pieces"}, []string{"Jar", "Pcs"}, map[int]int{1: 0}},
		"two as near":      {[]string{"Pieces"}, []string{"Piece", "Pcs"}, map[int]int{}},
		"two names":        {[]string{"Piece", "Pcs"}, []string{"Pieces"}, map[int]int{}},
		"twice there":      {[]string{"Qty"}, []string{"Qty", "Qty"}, map[int]int{0: 0, 1: 0}},
	} {
		var cells []grid.Cell
		for _, text := range c.row {
			cells = append(cells, grid.Cell{Kind: grid.Text, Raw: text})
		}
		if d := cmp.Diff(c.want, claims(c.names, heads(cells))); d != "" {
			t.Error(name, d)
		}
	}
}

// lids is the clean book with two headings of Jar parts that are one when normalised.
func lids() []sheet {
	return with("Jar parts", sheet{name: "Jar parts", rows: "Container|Piece|Pcs|finish\nJar 8oz|Jar glass||\nJar 8oz|Wick 8|1|any\n" +
		"Jar 8oz|Lid|1|colored\nTin 4oz|Wick 8|2|\nTin 4oz|Shred|8 g|"})
}

func TestFitDoesNotSpoilItsOwnFile(t *testing.T) {
	path := writeBook(t, lids()...)
	want := plain(readBook(t, cleanBook()...))
	before := ""
	for range 3 {
		save(t, path)
		text, err := os.ReadFile(LayoutPath(path))
		if err != nil {
			t.Fatal(err)
		}
		if before != "" && string(text) != before {
			t.Error(cmp.Diff(strings.Split(before, "\n"), strings.Split(string(text), "\n")))
		}
		if before = string(text); !strings.Contains(before, "Pcs: count") || !strings.Contains(before, "Piece: material") {
			t.Fatal(before)
		}
		if got := plain(readFile(t, path)); got != want {
			t.Error(cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
		}
	}
}

// Where the layout file gives two headings one field, neither is used, and it is
// asked which is meant; the file keeps what it says until that is answered.
func TestTwoHeadingsGivenOneField(t *testing.T) {
	path := withLayout(t, "- sheet: Jar parts\n  table: Jar parts\n  headings:\n    Piece: material\n    Pcs: material\n", lids()...)
	p := find(readFile(t, path).Problems.Sorted(), problem.AmbiguousHeading)
	if len(p) != 1 || p[0].Severity != problem.Error || p[0].Say != "" || !slices.Contains(p[0].Args, any("Pcs")) {
		t.Fatalf("%+v", p)
	}
	save(t, path)
	if text := fileOf(t, path); !strings.Contains(text, "Piece: material\n    Pcs: material\n") {
		t.Error(text)
	}
	fitted(t, path, "Piece")
	if text := fileOf(t, path); !strings.Contains(text, "Piece: material\n    Pcs: none\n") {
		t.Error(text)
	}
	if p := find(readFile(t, path).Problems.Sorted(), problem.AmbiguousHeading); len(p) > 0 {
		t.Errorf("%+v", p)
	}
}

func find(all []problem.Problem, code problem.Code) []problem.Problem {
	return slices.DeleteFunc(slices.Clone(all), func(p problem.Problem) bool { return p.Code != code })
}

func fileOf(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(LayoutPath(path))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// pourSheet is Pours under headings of one's own.
func pourSheet(headings string) []sheet {
	return with("Pours", sheet{name: "Pours", rows: headings + "\n2026-09-10|LAV-8-C|20|7"})
}

const pourLayout = "- sheet: Pours\n  table: Pours\n  headings:\n    Wann: date\n    Was: product\n    Stueck: units\n    Ansatz: batch\n"

// A changed heading leaves the rest of a table's layout as it was, and what is
// gone is said with what may be meant.
func TestAChangedHeadingKeepsTheRest(t *testing.T) {
	want := plain(readBook(t, cleanBook()...))
	for name, c := range map[string]struct {
		headings, say, near string
		severity            problem.Severity
		same                bool
	}{
		"as it was":        {"Wann|Was|Stueck|Ansatz", "", "", "", true},
		"near":             {"Wann|Was|Stuecke|Ansatz", "layout-near", "Stuecke", problem.Warning, false},
		"another":          {"Wann|Was|Menge|Ansatz", "layout-fresh", "Menge", problem.Warning, false},
		"understood":       {"Wann|Was|Units|Ansatz", "layout-read", "Units", problem.Note, true},
		"not needed":       {"Wann|Was|Stueck|", "layout-heading", "", problem.Warning, true},
		"under other rows": {"Alles\nWas wir gegossen haben|im Jahr\n\nWann|Was|Units|Ansatz", "layout-read", "Units", problem.Note, true},
	} {
		t.Run(name, func(t *testing.T) {
			b := readFile(t, withLayout(t, pourLayout, pourSheet(c.headings)...))
			p := find(b.Problems.Sorted(), problem.UnreadSheet)
			p = slices.DeleteFunc(p, func(p problem.Problem) bool { return !strings.HasPrefix(p.Say, "layout") })
			if c.say == "" {
				if len(p) > 0 {
					t.Errorf("%+v", p)
				}
			} else if len(p) != 1 || p[0].Say != c.say || p[0].Severity != c.severity || c.near != "" && !slices.Contains(p[0].Args, any(c.near)) {
				t.Errorf("%+v", p)
			}
			if got := plain(b); c.same && got != want {
				t.Error(cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
			}
		})
	}
}

// What is gone stays in the layout file until the maker says what it is now.
func TestFitKeepsWhatIsGone(t *testing.T) {
	path := withLayout(t, pourLayout, pourSheet("Wann|Was|Menge|Ansatz")...)
	save(t, path)
	if text := fileOf(t, path); !strings.Contains(text, "    Stueck: units # ") || !strings.Contains(text, `Menge: "?" # units of Pours`) {
		t.Fatal(text)
	}
	fitted(t, path, "Menge")
	if text := fileOf(t, path); strings.Contains(text, "Stueck") || !strings.Contains(text, "Menge: units\n") {
		t.Error(text)
	}
	if b := readFile(t, path); len(b.Pours) != 1 || b.Pours[0].Units.V != 20 {
		t.Errorf("%+v", b.Pours)
	}
}

// A table of which only other headings are left is not found by the layout; what
// is gone is said all the same, heading by heading.
func TestHeadingsThatAreAllGone(t *testing.T) {
	path := withLayout(t, pourLayout, pourSheet("Tag|Kerze|Zahl|Ansaetze")...)
	p := find(readFile(t, path).Problems.Sorted(), problem.UnreadSheet)
	p = slices.DeleteFunc(p, func(p problem.Problem) bool { return p.Say != "layout-gone" })
	if len(p) != 1 || !strings.Contains(argOf(p[0], "headings"), `"Wann"`) || !strings.Contains(argOf(p[0], "headings"), `"Ansatz" (is "Ansaetze" meant?)`) {
		t.Errorf("%+v", p)
	}
	path = withLayout(t, "- sheet: Pours\n  table: Pours\n  headings:\n    Stueck: units\n", pourSheet("date|product|Stuecke|batch")...)
	p = find(readFile(t, path).Problems.Sorted(), problem.UnreadSheet)
	if len(p) != 1 || p[0].Say != "layout-near" || argOf(p[0], "near") != "Stuecke" || p[0].At.Row != 1 {
		t.Errorf("%+v", p)
	}
}

func argOf(p problem.Problem, name string) string {
	if i := slices.Index(p.Args, any(name)); i >= 0 {
		s, _ := p.Args[i+1].(string)
		return s
	}
	return ""
}

// A table that has moved down is found where it stands now.
func TestATableThatMoved(t *testing.T) {
	want := plain(readBook(t, cleanBook()...))
	layout := strings.Replace(pourLayout, "  headings", "  row: 1\n  headings", 1)
	path := withLayout(t, layout, pourSheet("Poured this year\nas I\twrote it|down\n\nWann|Was|Stueck|Ansatz")...)
	if got := plain(readFile(t, path)); got != want {
		t.Error(cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
	}
	save(t, path)
	if text := fileOf(t, path); !strings.Contains(text, "  row: 4\n") {
		t.Error(text)
	}
}

func TestARenamedSheet(t *testing.T) {
	sheets := with("Pours", sheet{name: "Poured 26", rows: "Wann|Was|Stueck|Ansatz\n2026-09-10|LAV-8-C|20|7"})
	layout := strings.Replace(pourLayout, "sheet: Pours", "sheet: Poured 2026", 1)
	path := withLayout(t, layout, sheets...)
	p := find(readFile(t, path).Problems.Sorted(), problem.UnreadSheet)
	if i := slices.IndexFunc(p, func(p problem.Problem) bool { return p.Say == "layout-sheet-near" && argOf(p, "near") == "Poured 26" }); i < 0 {
		t.Fatalf("%+v", p)
	}
	save(t, path)
	if text := fileOf(t, path); !strings.Contains(text, layout) {
		t.Error(text)
	}
	fitted(t, path, "Poured 26")
	if got, want := plain(readFile(t, path)), plain(readBook(t, cleanBook()...)); got != want {
		t.Error(cmp.Diff(strings.Split(want, "\n"), strings.Split(got, "\n")))
	}
}

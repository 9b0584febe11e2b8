package ingest

import (
	"slices"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

// rewritten is the clean book with the rows of one sheet changed.
func rewritten(t *testing.T, name string, change func(rows string) string) *book.Book {
	t.Helper()
	sheets := cleanBook()
	i := slices.IndexFunc(sheets, func(s sheet) bool { return s.name == name })
	old := sheets[i].rows
	if sheets[i].rows = change(old); sheets[i].rows == old {
		t.Fatalf("%s is as it was", name)
	}
	return readBook(t, sheets...)
}

// found are the problems on a sheet, as code, what they say and cell.
func found(b *book.Book, sheet string) []string {
	var out []string
	for _, p := range b.Problems.Sorted() {
		if p.At.Sheet == sheet && (p.Code != problem.UnknownChannel || sheet != "Sales") {
			out = append(out, strings.Trim(string(p.Code)+"."+p.Say, ".")+" "+p.At.Name())
		}
	}
	return out
}

// Below groups of headings a heading that is only a currency or a unit is that
// of its group.
func TestUnitsBelowGroupsOfHeadings(t *testing.T) {
	clean := readBook(t, cleanBook()...)
	products := rewritten(t, "Products", func(rows string) string {
		_, rest, _ := strings.Cut(strings.TrimSpace(rows), "\n")
		return "|||||Retail|Wholesale\nproduct|name|recipe|jar|finish|$|$|on hand|minutes per unit|active\n" + rest
	})
	for i, p := range products.Products {
		want := clean.Products[i]
		if p.List.V != want.List.V || p.Wholesale.V != want.Wholesale.V || !p.List.OK() {
			t.Errorf("%s: %v and %v, want %v and %v", p.Code.V, p.List.V, p.Wholesale.V, want.List.V, want.Wholesale.V)
		}
	}
	if got := found(products, "Products"); len(got) > 0 {
		t.Error(got)
	}
	yen := rewritten(t, "Products", func(rows string) string {
		_, rest, _ := strings.Cut(strings.TrimSpace(rows), "\n")
		return "|||||Retail|Wholesale\nproduct|name|recipe|jar|finish|EUR|$|on hand|minutes per unit|active\n" + rest
	})
	if got := found(yen, "Products"); !slices.Contains(got, "bad-number.currency F3") {
		t.Error("euros in a book of dollars", got)
	}
}

// A column of units right of an amount needs no heading; one that holds
// anything else is not taken for units.
func TestUnitColumnsWithoutAHeading(t *testing.T) {
	for what, c := range map[string]struct {
		one, two, last string
		want           []string
	}{
		"units":      {"lb", "oz", "", []string{"ambiguous-heading.nameless D1"}},
		"a blank":    {"lb", "", "", []string{"ambiguous-heading.nameless D1"}},
		"a remark":   {"lb", "as ordered", "", []string{"no-unit.which-pack C2"}},
		"at the end": {"lb", "oz", "end", []string{"ambiguous-heading.nameless E1"}},
	} {
		b := rewritten(t, "Purchases", func(string) string {
			if c.last != "" {
				return "date|material|amount paid|quantity\n2026-08-03|Soy wax|60|20|" + c.one + "\n2026-08-04|Lavender oil|27|16|" + c.two
			}
			return "date|material|quantity||amount paid\n2026-08-03|Soy wax|20|" + c.one + "|60\n2026-08-04|Lavender oil|16|" + c.two + "|27"
		})
		if got := found(b, "Purchases"); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", what, got, c.want)
		}
		if what != "a blank" && what != "a remark" && (len(b.Purchases) != 2 || b.Purchases[0].Qty.V != 20*453.59237 || b.Purchases[1].Qty.V != 16*28.349523125) {
			t.Errorf("%s: %+v", what, b.Purchases)
		}
	}
}

// A row of parts may list several; another list asks for a row each.
func TestListsOfParts(t *testing.T) {
	parts := func(rows ...string) *book.Book {
		return rewritten(t, "Jar parts", func(string) string { return "jar|material|count|finish\n" + strings.Join(rows, "\n") })
	}
	b := parts("Jar 8oz|Jar glass, lid; WICK 8||")
	var got []string
	for _, p := range b.Jars[0].Parts {
		got = append(got, p.Material.Name.V)
		if p.Count.V != 1 || p.Count.State != cell.Assumed {
			t.Errorf("%s: %+v", p.Material.Name.V, p.Count)
		}
	}
	if want := []string{"Jar glass", "Lid", "Wick 8"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	for row, want := range map[string]string{
		"Jar 8oz|Jar glass, Lid|2|":       "unknown-material.list B2",
		"Jar 8oz|Jar glass, Ribbon||":     "unknown-material.list B2",
		"Jar 8oz|jar, lid, label, wick||": "unknown-material.list B2",
		"Jar 8oz|Sparkle, blue||":         "unknown-material B2",
	} {
		if got := found(parts(row), "Jar parts"); !slices.Equal(got, []string{want}) {
			t.Errorf("%q: %q, want %q", row, got, want)
		}
	}
}

// What refers to a row that was left out says so, and not what else it may mean.
func TestReferencesToRowsThatAreLeftOut(t *testing.T) {
	for _, c := range []struct{ sheet, from, to, other, want, at string }{
		{"Materials", "Lavender oil|fragrance", "Lavender oil|perfumery", "Recipes", "unknown-material.left-out B3", "Materials!A4"},
		{"Jars", "6.5 oz", "six", "Jar parts", "unknown-jar.left-out A2", "Jars!A2"},
		{"Products", "|colored|", "|striped|", "Sales", "unknown-product.left-out B2", "Products!A2"},
	} {
		b := rewritten(t, c.sheet, func(rows string) string { return strings.Replace(rows, c.from, c.to, 1) })
		if got := found(b, c.other); !slices.Contains(got, c.want) {
			t.Errorf("%s: %q, want %q", c.sheet, got, c.want)
		}
		for _, p := range b.Problems.Sorted() {
			if p.Say == "left-out" && p.At.Sheet == c.other && p.Other.String() != c.at {
				t.Errorf("%s: at %s, want %s", c.sheet, p.Other, c.at)
			}
		}
	}
}

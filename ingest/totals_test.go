package ingest

import (
	"slices"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/problem"
)

func overheads(rows string) []sheet {
	return with("Overheads", sheet{name: "Overheads", rows: "name|amount per month\nRent|180\nInsurance|32\nSite|29\n" + rows})
}

func overheadNames(b *book.Book) string {
	var out []string
	for _, o := range b.Overheads {
		out = append(out, o.Name.V)
	}
	return strings.Join(out, " ")
}

// A row that adds up the rows above by its formula is no row of its own, under
// whatever name; one whose formula is another is.
func TestSumsByFormulaAreTotals(t *testing.T) {
	for rows, want := range map[string]string{
		"Together|f:SUM(B2:B4)=241":                 "Rent Insurance Site",
		"Together|f:SUM($B$2:$B$4)=241":             "Rent Insurance Site",
		"Together|f:SUM(B1:B4)=241":                 "Rent Insurance Site",
		"Together|f:SUBTOTAL(109,B2:B4)=241":        "Rent Insurance Site",
		"Together|f:SUBTOTAL(109,Bills[Month])=241": "Rent Insurance Site",
		"Together|f:B2+B3+B4=241":                   "Rent Insurance Site",
		"Together|f:SUM(B2,B3:B4)=241":              "Rent Insurance Site",
		"Together|f:SUM(B2:B4)":                     "Rent Insurance Site", // never calculated
		"|\nTogether|f:SUM(B2:B4)=241\nPhone|20":    "Rent Insurance Site Phone",
		"Phone|20\nTogether|f:SUM(B2:B4)=241":       "Rent Insurance Site Phone", // a row was put in below the sum's last
		"Share|f:B2*0.5=90":                         "Rent Insurance Site Share",
		"Share|f:AVERAGE(B2:B4)=80":                 "Rent Insurance Site Share",
		"Share|f:B2+B4=209":                         "Rent Insurance Site Share",
		"Share|f:SUM(B2:B4)/2=120.5":                "Rent Insurance Site Share",
		"Share|f:SUM(D2:D4)=12":                     "Rent Insurance Site Share",
		"Share|f:SUM(Other!B2:B4)=12":               "Rent Insurance Site Share",
		"Share|f:SUBTOTAL(1,B2:B4)=12":              "Rent Insurance Site Share",
	} {
		b := readBook(t, overheads(rows)...)
		if got := overheadNames(b); got != want {
			t.Errorf("%s: %s, want %s", rows, got, want)
		}
		told := strings.Contains(strings.Join(found(b, "Overheads"), "; "), "totals-row.sum A")
		if told != strings.Contains(rows, "Together") {
			t.Errorf("%s: %v", rows, found(b, "Overheads"))
		}
	}
}

// A material whose price is a sum is a material.
func TestARowWithMoreThanASumStays(t *testing.T) {
	b := rewritten(t, "Materials", func(rows string) string { return rows + "\nGift set|packaging|1 pc|f:SUM(D2:D9)=12" })
	if m := b.Materials[len(b.Materials)-1]; m.Name.V != "Gift set" {
		t.Error(m.Name.V, found(b, "Materials"))
	}
}

// A typed sum stays a row, with a warning.
func TestTypedSumsAreToldApart(t *testing.T) {
	for rows, want := range map[string]bool{"Together|241": true, "Phone|240": false, "Phone|0": false, "Phone|32": false} {
		b := readBook(t, overheads(rows)...)
		if got := len(b.Overheads); got != 4 {
			t.Errorf("%s: %d rows", rows, got)
		}
		got := slices.ContainsFunc(b.Problems.Sorted(), func(p problem.Problem) bool {
			return p.Code == problem.TotalsRow && p.Say == "typed" && p.Severity == problem.Warning && p.At.Name() == "B5"
		})
		if got != want {
			t.Errorf("%s: %v", rows, found(b, "Overheads"))
		}
	}
}

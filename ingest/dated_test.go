package ingest

import (
	"context"
	"slices"
	"strings"
	"testing"

	"pourbook/compute/problem"
)

// soldBook is the clean book with sales whose dates stand under "Sold" and whose
// product stands under "Candle", which could be a quantity too.
func soldBook(dates string) []sheet {
	return with("Sales", sheet{name: "Sales", rows: "Order no.|Sold|Candle|How many|Price each|Remarks\n" + dates})
}

func TestDatesUnderAWeakHeadingAreNotThatField(t *testing.T) {
	b := readBook(t, soldBook("1|2026-09-01|LAV-8-C|2|22|\n2|2026-09-02|LAV-8-C|3|22|gift")...)
	if got := found(b, "Sales"); !slices.Contains(got, "ambiguous-heading.dated B1") || slices.Contains(got, "ambiguous-heading.used B1") {
		t.Error(got)
	}
	if b.Sales.Len() != 2 || b.Sales.At(1).Qty.String() != "3" {
		t.Errorf("%d sales", b.Sales.Len())
	}
}

// A blank first cell, or one that is no date among dates, does not make a
// quantity of a column of dates; all its rows are read.
func TestDatesBelowABlankCell(t *testing.T) {
	rows := "2|2026-09-02|LAV-8-C|3|22|gift\n3|3/9/2026|LAV-8-C|1|22|\n4|2026-09-04|LAV-8-N|1|22|\n5|2026-09-05|LAV-8-N|1|22|\n6|2026-09-06|LAV-8-N|1|22|\n7|30/9/2026|LAV-8-N|1|22|"
	for name, first := range map[string]string{"blank": "1||LAV-8-C|2|22|", "other": "1|9|LAV-8-C|2|22|"} {
		b := readBook(t, soldBook(first+"\n"+rows)...)
		if got := found(b, "Sales"); !slices.Contains(got, "ambiguous-heading.dated B1") {
			t.Errorf("%s: %s", name, got)
		}
		if b.Sales.Len() != 6 || b.Sales.At(0).Qty.String() != "3" || b.Sales.At(5).Row != 8 {
			t.Errorf("%s: %d sales", name, b.Sales.Len())
		}
	}
}

// What is no date under "Sold" leaves the heading to lose against the quantity,
// which the note has to name as it is in the end.
func TestTheNoteNamesTheHeadingThatIsUsed(t *testing.T) {
	b := readBook(t, soldBook("1|9|LAV-8-C|2|22|")...)
	for _, p := range b.Problems.Sorted() {
		if p.Code == problem.AmbiguousHeading && p.Say == "used" && p.At.Name() == "B1" {
			if p.Other.Name() != "D1" || !slices.Contains(p.Args, any("How many")) {
				t.Errorf("%s: %v", p.Other.Name(), p.Args)
			}
			return
		}
	}
	t.Error("no note", found(b, "Sales"))
}

// asked are the choices of the question for a field.
func asked(t *testing.T, path, field string) []string {
	t.Helper()
	f, err := Fit(context.Background(), path, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range f.Questions {
		if q.Key == "missing" && slices.Contains(q.Args, any(field)) {
			return q.Choices
		}
	}
	return nil
}

func TestFitOffersWhatLostToAnotherHeading(t *testing.T) {
	path := writeBook(t, soldBook("1|9|LAV-8-C|2|22|")...)
	if got := asked(t, path, "date"); strings.Join(got, ",") != "Sold,Remarks,none" {
		t.Errorf("%q", got)
	}
}

func TestFitAsksForTheFieldThatACapacityNeeds(t *testing.T) {
	path := writeBook(t, with("Jars", sheet{name: "Jars", rows: "jar|Holds (to brim)|Wax + scent|Across\nJar 8 oz|250 ml|6.5 oz|3"})...)
	if got := asked(t, path, "fill weight / fill %"); strings.Join(got, ",") != "Wax + scent,Across,none" {
		t.Errorf("%q", got)
	}
	fitted(t, path, "Wax + scent")
	if b := readFile(t, path); len(b.Jars) != 1 || !b.Jars[0].Fill.OK() {
		t.Errorf("%+v", b.Jars)
	}
	path = writeBook(t, with("Jars", sheet{name: "Jars", rows: "jar|Holds (to brim)|fill %|Wax + scent\nJar 8 oz|250 ml|80%|6.5 oz"})...)
	if got := asked(t, path, "fill weight / fill %"); got != nil {
		t.Errorf("asked with both at hand: %q", got)
	}
}

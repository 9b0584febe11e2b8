package ingest

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"
)

// What stands in the layout file stays, in its order, however often it is saved.
func TestFitKeepsWhatIsInTheFile(t *testing.T) {
	sheets := with("Jars", sheet{name: "Jars", rows: "Container|Wax in it|How full|Held (ml)|Dark?\nJar 8oz|6.5 oz|80||\nTin 4oz|3.5 oz|85||yes"})
	layout := `- sheet: Nowhere
  table: none
- sheet: Jars
  table: Jars
  headings:
    "Dark?": none
    Wax in it: fill weight # not the scale's
    How full: none # #1 of "mine"
    Container: jar
`
	path := withLayout(t, layout, sheets...)
	for range 2 {
		save(t, path)
		text := fileOf(t, path)
		_, text, _ = strings.Cut(text, "sheets:\n")
		if !strings.HasPrefix(text, layout) {
			t.Fatal(text)
		}
	}
	for _, j := range readFile(t, path).Jars {
		if j.FillPercent.OK() || j.Opaque.V {
			t.Errorf("%+v", j)
		}
	}
}

// An open sheet stands in the file once.
func TestFitKeepsAnOpenSheetOnce(t *testing.T) {
	path := writeBook(t, with("Recipes", sheet{name: "Zettel", rows: "Duft|Zutat|Menge\nLavender|Soy wax|1\nLavender|Red dye|2"})...)
	for range 2 {
		save(t, path)
		if text := fileOf(t, path); strings.Count(text, "sheet: Zettel") != 1 {
			t.Fatal(text)
		}
	}
	fitted(t, path, "Recipes", "Duft", "Zutat", "Menge")
	if b := readFile(t, path); len(b.Recipes) != 1 {
		t.Errorf("%+v", b.Recipes)
	}
}

// ownPurchases has three headings that are not understood, of which two are needed.
func ownPurchases() []sheet {
	return with("Purchases", sheet{name: "Purchases", rows: "date|Zeug|Menge|amount paid|Versand|supplier|reference\n" +
		"2026-08-03|Soy wax|2 x 10 lb|60|9|North Wax|A1\n2026-09-01|Wick 8|3|27|||"})
}

func TestOpenHeadingsSayAllThatTheyCanBe(t *testing.T) {
	path := writeBook(t, ownPurchases()...)
	f, err := Fit(context.Background(), path, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	if got := string(f.Text()); !strings.Contains(got, `Zeug: "?" # material, quantity, unit, pack size, freight of Purchases, or none?`) {
		t.Fatal(got)
	}
	material := slices.IndexFunc(f.Questions, func(q Question) bool { return slices.Contains(q.Args, any("material")) })
	f.Answer(material, slices.Index(f.Questions[material].Choices, "Zeug"))
	quantity := f.Questions[slices.IndexFunc(f.Questions, func(q Question) bool { return slices.Contains(q.Args, any("quantity")) })]
	if strings.Join(quantity.Choices, ",") != "Menge,Versand,none" {
		t.Errorf("%q", quantity.Choices)
	}
	if got := string(f.Text()); !strings.Contains(got, "Zeug: material\n") || !strings.Contains(got, `Menge: "?" # quantity, unit`) {
		t.Error(got)
	}
}

// Fields that a table can do without are not asked for, but said with the
// headings that are not read; of a heading that the file leaves open it is asked.
func TestFitSaysWhatIsNotRead(t *testing.T) {
	path := writeBook(t, ownPurchases()...)
	fitted(t, path, "Zeug", "Menge")
	f, err := Fit(context.Background(), path, Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(f.Unread(), "\n"); !strings.Contains(got, "Versand of Purchases is not read") || !strings.Contains(got, "freight") {
		t.Error(got)
	}
	text := string(f.Text())
	if !strings.Contains(text, "\n  # Versand is not read. Fields without a heading: unit, pack size, freight") {
		t.Fatal(text)
	}
	text = strings.Replace(text, "Menge: quantity\n", "Menge: quantity\n    Versand: \"?\"\n", 1)
	if err := os.WriteFile(f.Path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	fitted(t, path, "freight")
	if b := readFile(t, path); !b.Purchases[0].Freight.OK() || b.Purchases[0].Freight.V.String() != "9" {
		t.Errorf("%+v", b.Purchases[0])
	}
	if got := fileOf(t, path); strings.Contains(got, "Purchases is not read") || !strings.Contains(got, "Versand: freight") {
		t.Error(got)
	}
}

// A heading of which the file says that it is none is offered for a field only
// when no other is left, and stays none until it is the answer.
func TestFitRespectsNone(t *testing.T) {
	layout := "- sheet: Purchases\n  table: Purchases\n  headings:\n    Zeug: none\n    Versand: none\n"
	path := withLayout(t, layout, ownPurchases()...)
	if got := asked(t, path, "material"); strings.Join(got, ",") != "Menge,none" {
		t.Errorf("%q", got)
	}
	save(t, path)
	if got := fileOf(t, path); !strings.Contains(got, "Zeug: none\n    Versand: none\n") {
		t.Error(got)
	}
}

// A heading that could be a needed field too is offered for it, and is not
// written down as what it was taken for.
func TestFitDoesNotWriteDownAGuessThatIsAsked(t *testing.T) {
	rows := strings.Replace(cleanBook()[2].rows, "date|material|quantity|amount paid|", "date|material|Amount|Betrag|", 1)
	path := writeBook(t, with("Purchases", sheet{name: "Purchases", rows: rows})...)
	if got := asked(t, path, "amount paid"); strings.Join(got, ",") != "Amount,Betrag,none" {
		t.Fatalf("%q", got)
	}
	save(t, path)
	if got := fileOf(t, path); !strings.Contains(got, `Amount: "?" # amount paid, quantity, `) {
		t.Fatal(got)
	}
	fitted(t, path, "Betrag")
	if got, want := plain(readFile(t, path)), plain(readBook(t, cleanBook()...)); got != want {
		t.Error(got)
	}
}

func TestRemarksBehindHeadings(t *testing.T) {
	for line, want := range map[string]string{
		`    Qty: quantity`:              "",
		`    Qty: quantity # sold`:       "sold",
		`    Qty#: quantity`:             "",
		`    "Qty # sold": quantity`:     "",
		`    "a\" # b": date # c # d`:    "c # d",
		`    'Qty # "sold': none # "x`:   `"x`,
		`    Think I'll sell: none # it`: "it",
	} {
		if got := remark(line); got != want {
			t.Errorf("%s: %q, want %q", line, got, want)
		}
	}
}

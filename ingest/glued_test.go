package ingest

import (
	"strings"
	"testing"

	"pourbook/compute/problem"
)

func TestGlue(t *testing.T) {
	for name, want := range map[string]string{
		"Tin 4 oz": "tin 4oz", "tin  4OZ": "tin 4oz", "Tin 4-oz": "tin 4oz", "Cup 12 fl oz": "cup 12floz", "Cup 12floz": "cup 12floz", "Jar 250 ml, low": "jar 250 ml, low",
		"Jar 250 ml": "jar 250ml", "QC9-C": "qc9 c", "Wick 8": "wick 8", "8 pack": "8 pack", "": "", " - ": "", "oz": "oz",
	} {
		if got := glue(name); got != want {
			t.Errorf("glue(%q) = %q, want %q", name, got, want)
		}
	}
}

func TestUnitsTogetherOrApart(t *testing.T) {
	sheets := cleanBook()
	for i := range sheets {
		x := &sheets[i]
		switch x.name {
		case "Jar parts":
			x.rows = strings.ReplaceAll(x.rows, "Jar 8oz|", "Jar 8 oz|")
		case "Products":
			x.rows = strings.ReplaceAll(strings.ReplaceAll(x.rows, "|Tin 4oz|", "|tin 4-OZ|"), "Lavender 8 colored", "Lavender 8 oz")
		case "Sales", "Pours":
			x.rows = strings.ReplaceAll(x.rows, "LAV-8-C", "Lavender 8oz")
		}
	}
	b := readBook(t, sheets...)
	only(t, b, "unknown-channel Sales!G6", "unknown-jar Jar parts!A2", "unknown-jar Products!D4", "unknown-product Sales!B2")
	for _, p := range b.Problems.Sorted() {
		if p.Code != problem.UnknownChannel && p.Severity != problem.Note {
			t.Errorf("%s %s", p.Severity, p.At)
		}
	}
	if len(b.Jars[0].Parts) != 3 || b.Products[2].Jar != b.Jars[1] || len(b.Products) != 3 {
		t.Errorf("%d parts; %+v", len(b.Jars[0].Parts), b.Products[2])
	}
	if clean := readBook(t, cleanBook()...); b.Sales.Len() != clean.Sales.Len() || len(b.Pours) != len(clean.Pours) {
		t.Errorf("%d sales, %d pours", b.Sales.Len(), len(b.Pours))
	}
}

func TestUnitsThatFitTwoNames(t *testing.T) {
	sheets := cleanBook()
	for i := range sheets {
		x := &sheets[i]
		switch x.name {
		case "Jars":
			x.rows += "\nJar 8-oz|6.5 oz|||no|70"
		case "Jar parts":
			x.rows = strings.Replace(x.rows, "Jar 8oz|Lid", "Jar 8 oz|Lid", 1)
		}
	}
	only(t, readBook(t, sheets...), "unknown-channel Sales!G6", "unknown-jar Jar parts!A4")
}

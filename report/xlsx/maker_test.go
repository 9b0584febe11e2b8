package xlsx

import (
	"bytes"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourbook/report/demo"
)

func TestBookIsTheSameEveryTime(t *testing.T) {
	a, err := Book(demo.Sheets(), "Book", "Shop")
	if err != nil {
		t.Fatal(err)
	}
	b, err := Book(demo.Sheets(), "Book", "Shop")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a, b) {
		t.Error("two runs differ")
	}
}

func TestBookKeepsDatesNumbersAndText(t *testing.T) {
	data, err := Book(demo.Sheets(), "Book", "Shop")
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for at, want := range map[string]string{"A3": "date", "A4": "2024-11-01", "D4": "", "G4": "1"} {
		if got, err := f.GetCellValue("Sales", at); err != nil || got != want {
			t.Errorf("Sales!%s = %q, want %q (%v)", at, got, want, err)
		}
	}
	if lists, err := f.GetDataValidations("Products"); err != nil || len(lists) != 2 {
		t.Errorf("Products has %d drop-down lists, %v", len(lists), err)
	}
	if notes, err := f.GetComments("Materials"); err != nil || len(notes) != 3 {
		t.Errorf("Materials has %d notes, %v", len(notes), err)
	}
}

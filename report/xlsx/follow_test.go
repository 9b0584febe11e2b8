package xlsx

import (
	"bytes"
	"strconv"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/money"
)

// A value that is changed in the workbook has to give what the program gives
// for a book with that value in the first place.
func TestChangedInputsGiveWhatAChangedBookGives(t *testing.T) {
	for name, x := range map[string]edit{
		"pack price, load and wage": {shape{days: 120}, func(b *book.Book) {
			b.Materials[0].Packs[0].Price.V = money.Float(180)
			b.Recipes[0].Ingredients[1].Amount.V = 11
			n := b.Settings.Num(book.LaborRate)
			n.V = 33
			b.Settings.SetNum(book.LaborRate, n)
		}, func(b *book.Book) map[cell.Ref]float64 {
			return map[cell.Ref]float64{b.Materials[0].Packs[0].Price.At: 180, b.Recipes[0].Ingredients[1].Amount.At: 11, b.Settings.Num(book.LaborRate).At: 33}
		}, 0, true},
		"fee per order": {
			shape{days: 40},
			func(b *book.Book) { b.Channels[0].PerOrder.V = money.Float(3) },
			func(b *book.Book) map[cell.Ref]float64 { return map[cell.Ref]float64{b.Channels[0].PerOrder.At: 3} }, 0, false,
		},
		"purchase and units of a line": {shape{days: 120, purchases: true, method: "fifo"}, func(b *book.Book) {
			i := line(b)
			s := b.Sales.At(i)
			s.Qty = money.Float(7)
			b.Sales.Set(i, s)
			b.Purchases[5].Paid.V = money.Float(200)
		}, func(b *book.Book) map[cell.Ref]float64 { return map[cell.Ref]float64{b.Purchases[5].Paid.At: 200} }, 7, false},
	} {
		t.Run(name, func(t *testing.T) {
			follow(t, x)
		})
	}
}

// edit is a change of a book, and of the workbook that was made before it.
type edit struct {
	shape  shape
	change func(b *book.Book)
	cells  func(b *book.Book) map[cell.Ref]float64
	units  float64 // of the sales line, 0 to leave it
	whole  bool    // whether the sums of other months follow too
}

// line is a plain line of the period, sold on a channel with fees.
func line(b *book.Book) int {
	for i, s := range b.Sales.All() {
		if s.Day > lastDay-20 && s.Day <= lastDay && s.Channel == 0 && s.Has == book.HasPrice && s.Qty.Sign() > 0 && s.Price.Sign() > 0 {
			return i
		}
	}
	panic("no such line")
}

func follow(t *testing.T, x edit) {
	t.Helper()
	before := makeBook(x.shape)
	_, data := costOf(t, before, october())
	f := openBook(t, data)
	set := func(sheet, at string, v float64) {
		old, err := f.GetCellValue(sheet, at, excelize.Options{RawCellValue: true})
		if err != nil || old == strconv.FormatFloat(v, 'g', -1, 64) {
			t.Fatalf("%s!%s is %q already (%v)", sheet, at, old, err)
		}
		if err := f.SetCellFloat(sheet, at, v, -1, 64); err != nil {
			t.Fatal(err)
		}
	}
	for from, v := range x.cells(before) {
		sheet, at := inputAt(t, f, from)
		set(sheet, at, v)
	}
	if x.units != 0 {
		sheet, at := lineAt(t, f, before.Sales.At(line(before)).Row, "units")
		set(sheet, at, x.units)
	}
	var edited bytes.Buffer
	if err := f.Write(&edited); err != nil {
		t.Fatal(err)
	}
	after := makeBook(x.shape)
	x.change(after)
	_, fresh := costOf(t, after, october())
	comparePages(t, openBook(t, fresh), openBook(t, office(t, poison(t, edited.Bytes()))), openBook(t, data), x.whole)
}

// inputAt finds the input that was read from a cell.
func inputAt(t *testing.T, f *excelize.File, from cell.Ref) (sheet, at string) {
	t.Helper()
	for _, sheet := range []string{inputName("settings"), inputName("cells")} {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			if len(row) > 3 && row[2] == from.Sheet && row[3] == from.Name() {
				return sheet, address(2, r+1)
			}
		}
	}
	t.Fatalf("no input from %s", from)
	return "", ""
}

// lineAt finds a field of the sales line of a row.
func lineAt(t *testing.T, f *excelize.File, from int32, field string) (sheet, at string) {
	t.Helper()
	sheet = inputName("sales")
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	for r, row := range rows {
		if len(row) > 14 && row[14] == strconv.Itoa(int(from)) {
			return sheet, lineColumn(field) + strconv.Itoa(r+1)
		}
	}
	t.Fatalf("no line from row %d", from)
	return "", ""
}

// comparePages holds the pages of one workbook against another's; some figure
// must differ from what it was before. Rows that are ranked are left out.
func comparePages(t *testing.T, want, got, before *excelize.File, whole bool) {
	t.Helper()
	raw := excelize.Options{RawCellValue: true}
	compared, moved := 0, 0
	for _, sheet := range []string{"Summary", "Products", "Contents", "Channels", "Change", "Use", "Split", "Color", "Stock"} {
		if n, err := want.GetSheetIndex(sheet); err != nil || n < 0 || sheet == "Split" && !whole {
			continue
		}
		rows, err := want.GetRows(sheet, raw)
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			if sheet == "Summary" && r >= 5+len(totalLines) {
				break
			}
			for c, w := range row {
				if sheet == "Summary" && c > 1 && !whole {
					break
				}
				at := address(c+1, r+1)
				g, err1 := got.GetCellValue(sheet, at, raw)
				b, err2 := before.GetCellValue(sheet, at, raw)
				if err1 != nil || err2 != nil {
					t.Fatal(err1, err2)
				}
				compared++
				if differs(w, b) != "" {
					moved++
				}
				if msg := differs(w, g); msg != "" {
					t.Errorf("%s!%s: %s", sheet, at, msg)
				}
			}
		}
	}
	if compared < 300 || moved < 3 {
		t.Errorf("%d cells compared, %d of them changed", compared, moved)
	}
}

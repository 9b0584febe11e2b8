package report

import (
	"pourbook/report/demo"
	"pourbook/report/xlsx"
)

// DemoBook is the demo workbook.
func DemoBook() ([]byte, error) {
	return xlsx.Book(demo.Sheets(), "Demo book", "Quince Shed Candles")
}

package ingest

import (
	"errors"
	"strings"
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/templates"
)

// changeable is a book of two markets.
func changeable() *book.Book {
	b := &book.Book{Channels: []*book.Channel{{Name: text("Stall"), Listed: true}}}
	for i, name := range []string{"Hill Fair", "Dock Fair"} {
		d, _ := day.Parse([]string{"2026-11-14", "2026-12-05"}[i])
		b.Markets = append(b.Markets, &book.Market{Name: text(name), Day: d, Channel: b.Channels[0]})
	}
	b.Settings.SetNum(book.Pitcher, cell.Num{V: 2000, Raw: "2 kg", State: cell.Typed})
	b.Settings.SetText(book.Pitcher, cell.Text{V: "2 kg", Raw: "2 kg", State: cell.Typed})
	return b
}

func text(s string) cell.Text { return cell.Text{V: s, Raw: s, State: cell.Typed} }

func TestChangeReadsValuesAsCellsAre(t *testing.T) {
	settings := []struct {
		name, value string
		of          book.Setting
		want        float64
	}{
		{"pitcher capacity", "3kg", book.Pitcher, 3000},
		{"Pitcher Capacity (lb)", "4", book.Pitcher, 4 * pound},
		{"target margin", "55%", book.TargetMargin, 0.55},
		{"pour minutes per day", "2 h", book.PourMinutes, 120},
		{"price ending", ".95", book.PriceEnding, 0.95},
		{"labor rate per hour", "$18.50", book.LaborRate, 18.5},
	}
	for _, x := range settings {
		b := changeable()
		c, _, err := Change(b, []int{0}, x.name, x.value)
		if err != nil {
			t.Errorf("%s=%s: %v", x.name, x.value, err)
			continue
		}
		if got := c.Settings.Num(x.of); got.V-x.want > 1e-9 || x.want-got.V > 1e-9 {
			t.Errorf("%s=%s: read %v, want %v", x.name, x.value, got.V, x.want)
		}
		if b.Settings.Num(book.Pitcher).V != 2000 {
			t.Errorf("%s=%s changed the caller's book", x.name, x.value)
		}
	}
	c, was, err := Change(changeable(), []int{0, 1}, "Dock Fair: expected", "150")
	if err != nil {
		t.Fatal(err)
	}
	if was.Name != "Dock Fair: expected units" || c.Markets[0].Expected.OK() || c.Markets[1].Expected.V != 150 {
		t.Errorf("one market's field: %+v, %v and %v", was, c.Markets[0].Expected, c.Markets[1].Expected)
	}
	c, _, err = Change(changeable(), []int{1}, "growth %", "10")
	if err != nil || c.Markets[1].Growth.V != 0.1 || c.Markets[0].Growth.OK() {
		t.Errorf("growth 10: %v, %v", c.Markets[1].Growth, err)
	}
}

// pound in grams is exact by the International Yard and Pound agreement (1959).
const pound = 453.59237

func TestChangeRefuses(t *testing.T) {
	for _, x := range []struct{ name, value, near string }{
		{"expeted units", "150", "expected units"}, {"pitcher capasity", "3kg", "pitcher capacity"}, {"", "", ""},
	} {
		_, _, err := Change(changeable(), []int{0}, x.name, x.value)
		var r *Refusal
		if !errors.As(err, &r) || !r.Unknown || r.Near != x.near {
			t.Errorf("%q: %+v", x.name, r)
		}
	}
	for _, x := range []struct{ name, value string }{
		{"pitcher capacity", "heavy"},
		{"pitcher capacity", "3 L"},
		{"pitcher capacity", "0"},
		{"reject rate", "0.05"},
		{"growth %", "lots"},
		{"expected units", "-3"},
		{"days", "0"},
		{"date", "someday"},
		{"channel", "Moon"},
		{"like", "Moon"},
		{"pour days", "funday"},
		{"cost method", "guess"},
		{"booth fee", "12 EUR"},
	} {
		b := changeable()
		c, _, err := Change(b, []int{0}, x.name, x.value)
		var r *Refusal
		if !errors.As(err, &r) || r.Unknown || c != nil || r.Problem.Code == "" || r.Example == "" && len(r.Known) == 0 {
			t.Errorf("%s=%s: %+v", x.name, x.value, r)
		}
		if len(b.Problems.Sorted()) > 0 || len(b.Channels) != 1 {
			t.Errorf("%s=%s left its mark on the caller's book", x.name, x.value)
		}
	}
	_, _, err := Change(changeable(), nil, "expected units", "3")
	var r *Refusal
	if !errors.As(err, &r) || !r.NoMarket {
		t.Errorf("no market: %v", err)
	}
}

// Every setting and every field of a market can be changed, and an example that
// is given is one that is read.
func TestChangeTakesEveryName(t *testing.T) {
	values := map[string]string{"market": "Moor Fair", "channel": "Stall", "like": "Dock Fair", string(book.ShopName): "Hill Road"}
	for _, name := range append(settingNames(), specOf(book.TMarkets).fields()...) {
		value := values[name]
		if key := "what-if.example." + name; value == "" && templates.Has(key) {
			value = templates.Text(key)
		}
		if d, ok := book.Find(book.Setting(name)); value == "" && ok {
			value = d.Default
		}
		c, was, err := Change(changeable(), []int{0}, name, value)
		if err != nil || c == nil || was.Name != name {
			t.Errorf("%s=%s: %v, %v", name, value, was, err)
		}
		if strings.TrimSpace(value) == "" {
			t.Errorf("no value to try %s with", name)
		}
	}
}

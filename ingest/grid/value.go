package grid

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"pourbook/compute/day"
)

// rawCell is a cell as its XML gives it.
type rawCell struct {
	col                  int
	kind                 string // attribute t
	style                int
	hasValue, hasFormula bool
	value, formula       []byte
	inline               []byte
}

func (r *rawCell) reset(col int, kind string, style int) {
	*r = rawCell{col: col, kind: kind, style: style, value: r.value[:0], formula: r.formula[:0], inline: r.inline[:0]}
}

// cell is the meaning of the cell that was just read.
func (w *walk) cell() (Cell, error) {
	r := &w.raw
	if r.hasFormula && !r.hasValue && len(r.inline) == 0 {
		return Cell{Kind: NoValue, Raw: "=" + string(r.formula), Formula: true}, nil
	}
	value := bytes.TrimSpace(r.value)
	switch r.kind {
	case "s":
		return w.shared(value)
	case "str":
		return text(string(r.value), r.hasFormula), nil
	case "inlineStr":
		if len(r.inline) == 0 {
			return text(string(r.value), r.hasFormula), nil
		}
		return text(string(r.inline), r.hasFormula), nil
	case "", "n", "b", "e", "d":
	default:
		return Cell{}, fault("bad-cell", nil, "place", w.place(r.col))
	}
	if len(value) == 0 {
		if r.hasFormula {
			return Cell{Kind: NoValue, Raw: "=" + string(r.formula), Formula: true}, nil
		}
		return Cell{}, nil
	}
	c := w.typed(r.kind, string(value))
	c.Formula = r.hasFormula
	return c, nil
}

func (w *walk) typed(kind, value string) Cell {
	switch kind {
	case "b":
		return boolean(value)
	case "e":
		return Cell{Kind: Error, Raw: value}
	case "d":
		return isoDate(value)
	}
	return w.number(value)
}

func (w *walk) shared(value []byte) (Cell, error) {
	if len(value) == 0 {
		return Cell{}, nil
	}
	all, err := w.strings()
	if err != nil {
		return Cell{}, err
	}
	i := natural(string(value))
	if i < 0 || i >= all.len() {
		return Cell{}, fault("bad-string", nil, "place", w.place(w.raw.col))
	}
	if all.tooLong(i) {
		return Cell{}, w.longText()
	}
	c := Cell{Kind: Text, Raw: all.text(i), Formula: w.raw.hasFormula}
	if c.Raw == "" {
		c.Kind = Blank
	}
	return c, nil
}

func text(s string, formula bool) Cell {
	if s = unescape(s); s == "" {
		return Cell{Formula: formula}
	}
	return Cell{Kind: Text, Raw: s, Formula: formula}
}

func boolean(s string) Cell {
	switch s {
	case "1", "true":
		return Cell{Kind: Bool, Num: 1, Raw: "TRUE"}
	case "0", "false":
		return Cell{Kind: Bool, Raw: "FALSE"}
	}
	return Cell{Kind: Error, Raw: s}
}

// isoDate reads a date that is stored as text: "2026-10-31" or with a time.
func isoDate(s string) Cell {
	date, _, _ := strings.Cut(strings.TrimSuffix(s, "Z"), "T")
	d, err := day.Parse(date)
	if err != nil {
		if _, err := time.Parse(time.TimeOnly, strings.TrimSuffix(s, "Z")); err == nil {
			return Cell{Kind: Number, Raw: s, Time: true}
		}
		return Cell{Kind: Error, Raw: s}
	}
	return Cell{Kind: Date, Day: d, Raw: d.String(), Num: float64(d - epoch1900)}
}

// number reads a number and what its format makes of it. What is no number is
// shown as an error of its cell.
func (w *walk) number(s string) Cell {
	f, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.Trim(s, "0123456789+-.eE") != "" {
		return Cell{Kind: Error, Raw: s}
	}
	c := Cell{Kind: Number, Num: f + 0, Since1904: w.date1904} // -0 is 0
	format := PlainFormat
	if w.raw.style < len(w.formats) {
		format = w.formats[w.raw.style]
	}
	switch format {
	case DateFormat:
		c.Kind, c.Day = Date, serialDay(f, w.date1904)
		if c.Raw = c.Day.String(); c.Day != day.None {
			return c
		}
	case PercentFormat:
		c.Percent = true
	case TimeFormat:
		c.Time = true
	}
	var b [32]byte
	if short := strconv.AppendFloat(b[:0], c.Num, 'f', -1, 64); string(short) == s {
		c.Raw = s
	} else {
		c.Raw = string(short)
	}
	if math.Abs(f) >= 1e21 || f != 0 && math.Abs(f) < 1e-15 {
		c.Raw = strconv.FormatFloat(f, 'g', -1, 64)
	}
	return c
}

// unescape turns "_x000D_" into the character that it stands for.
func unescape(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for {
		i := strings.Index(s, "_x")
		if i < 0 || len(s) < i+7 {
			b.WriteString(s)
			return b.String()
		}
		n, err := strconv.ParseUint(s[i+2:i+6], 16, 32)
		if err != nil || s[i+6] != '_' || n >= 0xd800 && n < 0xe000 {
			b.WriteString(s[:i+2])
			s = s[i+2:]
			continue
		}
		b.WriteString(s[:i])
		b.WriteRune(rune(n))
		s = s[i+7:]
	}
}

func tooLong(s string) bool {
	if len(s) <= maxText {
		return false
	}
	n := utf8.RuneCountInString(s)
	for _, r := range s {
		if r > 0xffff {
			n++
		}
	}
	return n > maxText
}

func hasEscape(s []byte) bool { return bytes.Contains(s, []byte("_x")) }

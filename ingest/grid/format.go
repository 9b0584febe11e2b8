package grid

import "strings"

// Format is what a number format makes of a number.
type Format uint8

// The classes of number formats.
const (
	PlainFormat Format = iota
	DateFormat
	TimeFormat // a time of day or a duration, without a day
	PercentFormat
)

// builtIn are the formats that a file may use without giving their codes
// (ECMA-376 part 1, 18.8.30, with those of East Asian and Thai spreadsheets).
func builtIn(id int) Format {
	switch {
	case id == 9, id == 10, id == 67, id == 68:
		return PercentFormat
	case id >= 14 && id <= 17, id == 22, id >= 27 && id <= 31, id == 36, id >= 50 && id <= 54, id == 57, id == 58:
		return DateFormat
	case id >= 71 && id <= 74, id == 77, id == 81:
		return DateFormat
	case id >= 18 && id <= 21, id >= 45 && id <= 47, id >= 32 && id <= 35, id == 55, id == 56, id == 75, id == 76, id >= 78 && id <= 80:
		return TimeFormat
	}
	return PlainFormat
}

// formatOf reads a format's code by its first section, that of positive
// numbers: letters outside quotes, escapes and brackets tell.
func formatOf(code string) Format {
	var date, clock, month, percent bool
	for i := 0; i < len(code); i++ {
		switch c := code[i] | 0x20; {
		case code[i] == ';':
			i = len(code)
		case code[i] == '"':
			i = skipTo(code, i+1, '"')
		case code[i] == '\\' || code[i] == '_' || code[i] == '*':
			i += runeLength(code, i+1)
		case code[i] == '[':
			end := skipTo(code, i+1, ']')
			clock = clock || elapsed(code[i+1:min(end, len(code))])
			i = end
		case hasFold(code[i:], "general"):
			i += len("general") - 1
		case hasFold(code[i:], "am/pm"):
			clock = true
			i += len("am/pm") - 1
		case hasFold(code[i:], "e+") || hasFold(code[i:], "e-"):
			i++
		case c == 'y', c == 'd', c == 'b', c == 'e', c == 'g':
			date = true
		case c == 'h', c == 's':
			clock = true
		case c == 'm':
			month = true
		case code[i] == '%':
			percent = true
		}
	}
	switch {
	case date, month && !clock:
		return DateFormat
	case clock:
		return TimeFormat
	case percent:
		return PercentFormat
	}
	return PlainFormat
}

// elapsed reports whether what stands in brackets is a duration, such as [h].
func elapsed(s string) bool {
	s = strings.ToLower(s)
	return s != "" && (strings.Trim(s, "h") == "" || strings.Trim(s, "m") == "" || strings.Trim(s, "s") == "")
}

func skipTo(s string, from int, end byte) int {
	if i := strings.IndexByte(s[min(from, len(s)):], end); i >= 0 {
		return from + i
	}
	return len(s)
}

func runeLength(s string, i int) int {
	for n := range s[min(i, len(s)):] {
		if n > 0 {
			return n
		}
	}
	return max(1, len(s)-i)
}

func hasFold(s, prefix string) bool {
	return len(s) >= len(prefix) && strings.EqualFold(s[:len(prefix)], prefix)
}

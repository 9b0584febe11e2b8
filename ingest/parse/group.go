package parse

import "strings"

// grouped is a run of digits and separators taken apart. For an unclear run
// plain is the reading with a decimal separator, joined that with thousands.
type grouped struct {
	ok      bool
	plain   string // with a decimal point, without thousands
	unclear bool   // one separator followed by exactly three digits
	sep     byte   // the separator of an unclear run
	joined  string // the other reading of an unclear run
	shows   byte   // the decimal separator that the run shows, 0 for none
}

// group reads digits with points, commas, spaces and apostrophes between them.
func group(s string) grouped {
	parts, seps, ok := cutGroups(s)
	if !ok {
		return grouped{}
	}
	if len(seps) == 0 {
		return grouped{ok: true, plain: s}
	}
	last := seps[len(seps)-1]
	fraction := parts[len(parts)-1]
	decimal := (last == '.' || last == ',') && strings.Count(seps, string(last)) == 1
	switch {
	case decimal && len(seps) == 1:
		return oneSeparator(parts[0], fraction, last)
	case decimal:
		if fraction == "" || !thousands(parts[:len(parts)-1], seps[:len(seps)-1]) {
			return grouped{}
		}
		return grouped{ok: true, plain: strings.Join(parts[:len(parts)-1], "") + "." + fraction, shows: last}
	case thousands(parts, seps):
		return grouped{ok: true, plain: strings.Join(parts, ""), shows: other(last)}
	}
	return grouped{}
}

func oneSeparator(before, after string, sep byte) grouped {
	g := grouped{ok: before != "" || after != "", plain: zero(before) + "." + zero(after), shows: sep}
	if after == "" {
		g.ok = g.ok && sep == '.'
		g.shows = 0
	}
	if len(after) == 3 && len(before) >= 1 && len(before) <= 3 && before[0] != '0' {
		g.unclear, g.sep, g.shows = true, sep, 0
		g.joined = before + after
	}
	return g
}

func zero(s string) string {
	if s == "" {
		return "0"
	}
	return s
}

func other(sep byte) byte {
	switch sep {
	case '.':
		return ','
	case ',':
		return '.'
	}
	return 0
}

// thousands reports whether parts are groups of three after the first, all
// parted by the same separator; with two or more separators also the Indian
// way, pairs before the last three.
func thousands(parts []string, seps string) bool {
	if len(parts[0]) < 1 || len(parts[0]) > 3 || strings.Count(seps, seps[:1]) != len(seps) {
		return false
	}
	if len(parts[len(parts)-1]) != 3 {
		return false
	}
	pairs := len(parts) > 2 && seps[0] == ',' && len(parts[0]) <= 2
	for _, p := range parts[1 : len(parts)-1] {
		if len(p) != 3 {
			pairs = pairs && len(p) == 2
			if !pairs {
				return false
			}
		} else if pairs {
			pairs = false
		}
	}
	return true
}

func cutGroups(s string) (parts []string, seps string, ok bool) {
	start := 0
	var b []byte
	for i := 0; i <= len(s); i++ {
		if i < len(s) && isDigit(s[i]) {
			continue
		}
		if i < len(s) && !strings.ContainsRune(". ,'", rune(s[i])) {
			return nil, "", false
		}
		parts = append(parts, s[start:i])
		if i < len(s) {
			b = append(b, s[i])
		}
		start = i + 1
	}
	return parts, string(b), s != ""
}

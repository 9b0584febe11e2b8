package day

import "testing"

func FuzzParse(f *testing.F) {
	for _, s := range []string{"", "2026-10-31", "2026-02-29", "2024-02-29", "0000-00-00", "0000-01-01", "9999-12-31", "10000-01-01", "2026-1-1", "2026-10", "-001-01-01", "2026-10-31T00:00:00Z"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if d, err := Parse(s); err == nil && d.String() != s {
			t.Errorf("%q is %v", s, d)
		}
		if m, err := ParseMonth(s); err == nil && (m.String() != s || m.First().Month() != m || m.Last().Month() != m) {
			t.Errorf("%q is %v, from %v to %v", s, m, m.First(), m.Last())
		}
	})
}

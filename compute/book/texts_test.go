package book

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Texts number as a list without repetitions does.
func TestTextsAreNumberedAsTheyCome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var texts Texts
		want := []string{""}
		for _, s := range rapid.SliceOf(rapid.StringOfN(rapid.RuneFrom([]rune("ab \x00ä")), 0, 3, -1)).Draw(t, "texts") {
			n := slices.Index(want, s)
			if n < 0 {
				n, want = len(want), append(want, s)
			}
			if got := texts.Number(s); int(got) != n || !texts.Is(got, []byte(s)) {
				t.Fatalf("%q is number %d, want %d", s, got, n)
			}
		}
		if texts.Len() != len(want) {
			t.Fatalf("%d texts, want %d", texts.Len(), len(want))
		}
		for n, s := range texts.All() {
			if s != want[n] {
				t.Fatalf("number %d is %q, want %q", n, s, want[n])
			}
		}
	})
}

// A few bytes for each of many texts.
func TestManyTextsTakeLittleRoom(t *testing.T) {
	var texts Texts
	const n = 100_000
	for i := range n {
		texts.Number(string(rune('A'+i%26)) + string([]byte{'0' + byte(i/26%10), '0' + byte(i/260%10), '0' + byte(i/2600%10), '0' + byte(i/26000)}))
	}
	if room := cap(texts.bytes) + 4*cap(texts.ends) + 4*cap(texts.slots); texts.Len() != n+1 || room > 30*n {
		t.Errorf("%d texts in %d bytes", texts.Len(), room)
	}
}

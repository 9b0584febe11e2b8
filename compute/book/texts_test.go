package book

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

var some = rapid.OneOf(
	rapid.StringOfN(rapid.RuneFrom([]rune("ab \x00ä")), 0, 3, -1),
	rapid.StringOfN(rapid.RuneFrom([]rune("01")), 0, 11, -1),
	rapid.Map(rapid.Uint32Range(0, 60), func(n uint32) string { return strconv.Itoa(int(n)) }),
	rapid.Map(rapid.IntRange(0, 4), func(n int) string { return strings.Repeat("long ", n*8000) }),
)

// Texts number as a list does to which texts are added that it does not hold. Add
// may add one again that only Add was given.
func TestTextsAreNumberedAsTheyCome(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var texts Texts
		want := []string{""}
		distinct, numbered := true, map[string]bool{}
		for _, s := range rapid.SliceOf(some).Draw(t, "texts") {
			n := slices.Index(want, s)
			var got int32
			if s != "" && rapid.Bool().Draw(t, "add") {
				got = texts.Add([]byte(s))
				if again := int(got) == len(want); n > 0 && again && !numbered[s] {
					n, distinct = -1, false
				}
			} else {
				got = texts.Number(s)
				numbered[s] = true
			}
			if n < 0 {
				n, want = len(want), append(want, s)
			}
			if int(got) != n || !texts.Is(got, []byte(s)) {
				t.Fatalf("%q is number %d, want %d", s, got, n)
			}
			for n, other := range want {
				if is := texts.Is(int32(n), []byte(s)); is != (s == other) {
					t.Fatalf("number %d, %q, is %q: %v", n, other, s, is)
				}
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
		if texts.Distinct() != distinct {
			t.Fatalf("distinct: %v, want %v", !distinct, distinct)
		}
	})
}

func TestOneOfManyTextsIsThereTwice(t *testing.T) {
	for _, again := range []string{"", "1", "20001", "0x", "39999x"} {
		var texts Texts
		const n = 40_000
		for i := range n {
			texts.Add([]byte(strconv.Itoa(i * 7919 % n)))
			texts.Add([]byte(strconv.Itoa(i) + "x"))
		}
		if again != "" {
			texts.Add([]byte(again))
		}
		if texts.Distinct() != (again == "") {
			t.Errorf("%q is there twice: %v", again, !texts.Distinct())
		}
	}
}

// Rising whole numbers are found again, also behind a page.
func TestRisingNumbers(t *testing.T) {
	var texts Texts
	const n = 3 * chunkLines
	for i := range n {
		for _, back := range []int{0, 1, 7, i / 2} {
			if v := max(0, i-back); texts.Number(strconv.Itoa(2*v)) != int32(v+1) || texts.At(int32(v+1)) != strconv.Itoa(2*v) {
				t.Fatalf("%d is number %d at %d", 2*v, texts.Number(strconv.Itoa(2*v)), i)
			}
		}
	}
	for i := range n {
		if got := texts.Number(strconv.Itoa(2*i + 1)); got != int32(n+i+1) || texts.Number(strconv.Itoa(2*i+1)) != got {
			t.Fatalf("%d is number %d", 2*i+1, got)
		}
	}
}

// A few bytes for each of many texts.
func TestManyTextsTakeLittleRoom(t *testing.T) {
	var texts Texts
	const n = 100_000
	for i := range n {
		texts.Number(string(rune('A'+i%26)) + string([]byte{'0' + byte(i/26%10), '0' + byte(i/260%10), '0' + byte(i/2600%10), '0' + byte(i/26000)}))
	}
	if room := len(texts.bytes)*pieceSize + 4*texts.places.len() + 8*cap(texts.hashed.slots); texts.Len() != n+1 || room > 32*n {
		t.Errorf("%d texts in %d bytes", texts.Len(), room)
	}
}

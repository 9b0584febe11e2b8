package book

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestPagedIsAList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, more := rapid.IntRange(0, 3*pageLen).Draw(t, "n"), rapid.IntRange(0, 2*pageLen).Draw(t, "more")
		want, got := slices.Repeat([]int{7}, n), PagedOf(n, 7)
		for i := range more {
			want = append(want, i)
			got.Add(i)
		}
		for i := 0; i < len(want); i += 5 {
			want[i] = -i
			*got.At(i) = -i
		}
		if got.Len() != len(want) {
			t.Fatalf("%d values, want %d", got.Len(), len(want))
		}
		for i, x := range want {
			if *got.At(i) != x {
				t.Fatalf("value %d is %d, want %d", i, *got.At(i), x)
			}
		}
	})
}

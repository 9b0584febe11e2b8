package book

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A column has the numbers that it was made of.
func TestColumnsAreTheirNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		span := rapid.SampledFrom([]int64{0, 1, 2, 3, 4, 15, 16, 255, 256, 65535, 65536, math.MaxInt32, math.MaxUint32}).Draw(t, "span")
		from := rapid.SampledFrom([]int64{math.MinInt32, -1, 0, 7}).Draw(t, "from")
		rise := rapid.SampledFrom([]float64{0, 0.01, 0.5, 1, -1, 3, -1000, math.MaxUint32 / chunkLines}).Draw(t, "rise")
		some := rapid.SliceOfN(rapid.Uint32(), 1, 50).Draw(t, "some")
		var v [chunkLines]int32
		for i := range v {
			v[i] = int32(from + int64(uint64(some[i%len(some)])%uint64(span+1)) + int64(rise*float64(i)))
		}
		c := columnOf(&v)
		var got [chunkLines]int32
		c.all(&got)
		if got != v {
			t.Fatal("all numbers are not those that it was made of")
		}
		for i, x := range v {
			if c.at(i) != x {
				t.Fatalf("number %d is %d, want %d", i, c.at(i), x)
			}
		}
	})
}

// Numbers that follow one another take no room, others that of the least power of two of bits.
func TestColumnsAreSmall(t *testing.T) {
	for name, c := range map[string]struct {
		number func(i int) int32
		words  int
	}{
		"one":       {func(int) int32 { return -5 }, 0},
		"rows":      {func(i int) int32 { return int32(i) + 2 }, 0},
		"backwards": {func(i int) int32 { return -3 * int32(i) }, 0},
		"pairs":     {func(i int) int32 { return int32(i / 2) }, chunkLines / 64},
		"days":      {func(i int) int32 { return int32(i / 1000) }, chunkLines / 64},
		"few":       {func(i int) int32 { return int32(i * 7919 % 16) }, 4 * chunkLines / 64},
		"more":      {func(i int) int32 { return int32(i * 7919 % 17) }, 8 * chunkLines / 64},
		"far":       {func(i int) int32 { return int32(i%2)*math.MaxInt32 - int32(i/2%2)*math.MaxInt32 }, 32 * chunkLines / 64},
	} {
		var v [chunkLines]int32
		for i := range v {
			v[i] = c.number(i)
		}
		if got := len(columnOf(&v).words); got != c.words {
			t.Errorf("%s: %d words, want %d", name, got, c.words)
		}
	}
}

func TestNumbersAreAList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var l numbers
		var want []int32
		some := rapid.SliceOfN(rapid.Int32(), 1, 20).Draw(t, "some")
		for i := range rapid.IntRange(0, 3*chunkLines).Draw(t, "n") {
			want = append(want, some[i%len(some)]+int32(i))
			l.add(want[i])
		}
		if l.len() != len(want) {
			t.Fatalf("%d numbers, want %d", l.len(), len(want))
		}
		for i, x := range want {
			if l.at(i) != x {
				t.Fatalf("number %d is %d, want %d", i, l.at(i), x)
			}
		}
	})
}

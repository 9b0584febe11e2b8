package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io/fs"
	"os"
	"os/exec"
	"strings"
	"testing"

	"pourbook/compute/oracle"
)

// pictures are the pages of the demo that the README shows; a page is the first
// that holds the words.
var pictures = []struct{ name, pdf, words string }{
	{"costing.png", "demo-costing-2026-10.pdf", "Costing report"},
	{"batch-card.png", "demo-plan-Harbor-Lights-Fair-2026-12-05.pdf", "\nB-002\n"},
}

// inks are the colors of a picture: grays, and the documents' rust and petrol
// with what lies between them and paper.
var inks = func() color.Palette {
	var p color.Palette
	for i := range 10 {
		g := uint8(i * 255 / 9)
		p = append(p, color.Gray{g})
	}
	for _, c := range [][3]int{{158, 52, 20}, {16, 72, 82}} {
		for _, part := range []int{0, 1, 2} {
			mix := func(v int) uint8 { return uint8(v + (255-v)*part/3) }
			p = append(p, color.RGBA{mix(c[0]), mix(c[1]), mix(c[2]), 255})
		}
	}
	return p
}()

// The README's pictures are pages that the program draws today. With -update
// they are drawn anew.
func TestReadmePictures(t *testing.T) {
	oracle.Need(t, oracle.Poppler)
	inDemoFolder(t)
	output(t, "pourbook cost demo.xlsx --month 2026-10 --today 2026-11-05")
	output(t, "pourbook plan demo.xlsx --today 2026-11-05")
	for _, p := range pictures {
		got := drawn(t, p.pdf, p.words)
		path := inTree("testdata/pictures/" + p.name)
		share := differing(got, stored(t, path))
		switch {
		case share <= 0.02:
		case *update:
			keep(t, path, got)
		default:
			t.Errorf("%s of %s is not what the program draws: %.1f %% of it differs (go test ./cmd/pourbook -run %s -update)",
				p.name, p.pdf, 100*share, t.Name())
		}
	}
}

// drawn is a page in the inks, small enough to be shown beside text.
func drawn(t *testing.T, pdf, words string) *image.Paletted {
	t.Helper()
	text, err := exec.Command("pdftotext", "-layout", pdf, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	before, _, ok := strings.Cut(string(text), words)
	if !ok {
		t.Fatalf("%s does not say %q", pdf, words)
	}
	page := fmt.Sprint(1 + strings.Count(before, "\f"))
	out, err := exec.Command("pdftoppm", "-png", "-r", "84", "-f", page, "-l", page, "-singlefile", pdf).Output()
	if err != nil {
		t.Fatal(err)
	}
	full, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	small := image.NewPaletted(full.Bounds(), inks)
	draw.Draw(small, small.Bounds(), full, full.Bounds().Min, draw.Src)
	return small
}

// keep stores a picture of at most 80 kB.
func keep(t *testing.T, path string, p image.Image) {
	t.Helper()
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	if b.Len() > 80_000 {
		t.Errorf("%s has %d bytes", path, b.Len())
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// stored is a picture as it was kept; an empty one where there is none.
func stored(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return image.NewGray(image.Rectangle{})
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	p, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// differing is the share of pixels, among those that are not paper in both
// pictures, whose brightness is further apart than a letter's edge drawn by
// another version of the same program.
func differing(a, b image.Image) float64 {
	if a.Bounds() != b.Bounds() {
		return 1
	}
	inked, apart := 0, 0
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			v := int(color.GrayModel.Convert(a.At(x, y)).(color.Gray).Y)
			w := int(color.GrayModel.Convert(b.At(x, y)).(color.Gray).Y)
			if v > 240 && w > 240 {
				continue
			}
			inked++
			if max(v-w, w-v) > 96 {
				apart++
			}
		}
	}
	return float64(apart) / float64(max(inked, 1))
}

package oracle

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// font is a line of pdffonts: embedded, subset, with a map to Unicode.
var font = regexp.MustCompile(`(?m)^(\S+) .* (yes|no) +(yes|no) +(yes|no) +\d+ +\d+ *$`)

// fontSize is that of an embedded font before compression, in bytes; a whole
// one of ours has 130,000 and more.
var fontSize = regexp.MustCompile(`/Length1 (\d+)`)

const wholeFont = 100_000

// SoundPDF holds a document to qpdf and Poppler: no damage, fonts embedded, cut
// to the letters used and mapped to Unicode, the paper's size, a title, nothing
// that acts, and text on every page. It returns the number of pages.
func SoundPDF(t testing.TB, path, paper string) int {
	t.Helper()
	Need(t, QPDF, Poppler)
	if out := string(Run(t, "qpdf", "--check", path)); !strings.Contains(out, "No syntax or stream encoding errors") {
		t.Errorf("%s: %s", path, out)
	}
	fonts := font.FindAllStringSubmatch(string(Run(t, "pdffonts", path)), -1)
	for _, f := range fonts {
		if f[2] != "yes" || f[4] != "yes" {
			t.Errorf("%s: font %s is embedded %s, mapped to Unicode %s", path, f[1], f[2], f[4])
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	sizes := fontSize.FindAllSubmatch(data, -1)
	if len(sizes) != len(fonts) {
		t.Errorf("%s: %d font files for %d fonts", path, len(sizes), len(fonts))
	}
	for _, m := range sizes {
		if n, err := strconv.Atoi(string(m[1])); err != nil || n >= wholeFont {
			t.Errorf("%s: a font of %s bytes is not cut to the letters used", path, m[1])
		}
	}
	return checkPages(t, path, size(paper), len(fonts))
}

func size(paper string) string {
	return map[string]string{"Letter": "612 x 792 pts", "A4": "595.28 x 841.89 pts"}[paper]
}

func checkPages(t testing.TB, path, size string, fonts int) int {
	t.Helper()
	info := facts(string(Run(t, "pdfinfo", path)))
	if fonts == 0 || !strings.HasPrefix(info["Page size"], size) || info["Title"] == "" {
		t.Errorf("%s: %d fonts, size %q, title %q", path, fonts, info["Page size"], info["Title"])
	}
	if info["JavaScript"] != "no" || info["Form"] != "none" || info["Encrypted"] != "no" {
		t.Errorf("%s: %v", path, info)
	}
	pages, err := strconv.Atoi(info["Pages"])
	sheets := strings.Split(strings.TrimSuffix(string(Run(t, "pdftotext", path, "-")), "\f"), "\f")
	if err != nil || len(sheets) != pages {
		t.Errorf("%s: %q pages, %d with text", path, info["Pages"], len(sheets))
	}
	for i, s := range sheets {
		if len(strings.Fields(s)) < 5 {
			t.Errorf("%s: page %d says only %q", path, i+1, s)
		}
	}
	return pages
}

func facts(text string) map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(text) {
		name, value, _ := strings.Cut(line, ":")
		out[name] = strings.TrimSpace(value)
	}
	return out
}

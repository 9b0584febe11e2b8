package templates

import (
	"io/fs"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestFill(t *testing.T) {
	for text, want := range map[string]string{
		"plain":                             "plain",
		"{n} {n|jar|jars} of {what}":        "3 jars of wax",
		"{one} {one|jar|jars}, {missing} {": "1 jar, {missing} {",
	} {
		if got := fill(text, []any{"n", 3, "what", "wax", "one", 1}); got != want {
			t.Errorf("fill(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestParse(t *testing.T) {
	got := map[string]string{}
	parse("# note\na: one\n two\n\nb.c: x: y\n", got)
	if d := cmp.Diff(map[string]string{"a": "one two", "b.c": "x: y"}, got); d != "" {
		t.Error(d)
	}
}

func TestTextWithoutWordsIsSeen(t *testing.T) {
	if got := Text("no.such.key"); got != "[no.such.key]" {
		t.Errorf("Text = %q", got)
	}
}

func TestNoKeyStandsTwice(t *testing.T) {
	names, err := fs.Glob(files, language+"/*.txt")
	if err != nil || len(names) == 0 {
		t.Fatal(names, err)
	}
	from := map[string]string{}
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		here := map[string]string{}
		parse(string(text), here)
		for key := range here {
			if other, twice := from[key]; twice {
				t.Errorf("%s stands in %s and %s", key, other, name)
			}
			from[key] = name
		}
	}
}

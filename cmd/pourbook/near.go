package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/problem"
	"pourbook/ingest"
)

// suggest adds to each name that the command line asks for in vain the nearest
// name of the book.
func suggest(b *book.Book, problems problem.List) problem.List {
	var out problem.List
	for _, p := range problems.Sorted() {
		if p.Say == "asked" && len(p.Args) == 2 {
			name, _ := p.Args[1].(string)
			if near := ingest.Nearest(name, namesFor(b, p.Code)); near != "" {
				p.Say, p.Args = "asked-near", append(slices.Clone(p.Args), "near", near)
			}
		}
		out.Add(p)
	}
	return out
}

// namesFor are the names of the book that a name asked for could be.
func namesFor(b *book.Book, code problem.Code) (names []string) {
	switch code {
	case problem.UnknownJar:
		for _, j := range b.Jars {
			names = append(names, j.Name.V)
		}
	case problem.UnknownProduct:
		for _, p := range b.Products {
			names = append(names, p.Code.V, p.Name.V)
		}
	case problem.UnknownRecipe:
		for _, r := range b.Recipes {
			names = append(names, r.Name.V)
		}
	}
	return names
}

// isBook reports whether a word names a file, or ends as a book's name does.
func isBook(word string) bool {
	if slices.Contains([]string{".xlsx", ".xlsm", ".xltx", ".xltm"}, strings.ToLower(filepath.Ext(word))) {
		return true
	}
	info, err := os.Stat(word)
	return err == nil && info.Mode().IsRegular()
}

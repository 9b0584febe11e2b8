//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/xuri/excelize/v2"

	"pourbook/ingest/grid/gridtest"
)

// notThere are no files, no ordinary ones, or too large ones.
func notThere(good []byte) map[string]badFile {
	return map[string]badFile{
		"not there":            {put: func(string) error { return nil }, words: "there is no such file"},
		"empty":                {data: []byte{}, words: "the file is empty"},
		"a folder":             {put: func(path string) error { return os.Mkdir(path, 0o755) }, words: "this is a folder"},
		"a pipe":               {put: func(path string) error { return syscall.Mkfifo(path, 0o600) }, words: "not an ordinary file"},
		"a device":             {put: func(path string) error { return os.Symlink("/dev/zero", path) }, words: "not an ordinary file"},
		"a link to nowhere":    {put: func(path string) error { return os.Symlink("nowhere", path) }, words: "there is no such file"},
		"a link to itself":     {put: func(path string) error { return os.Symlink(filepath.Base(path), path) }, words: "could not be read"},
		"only zeros":           {data: make([]byte, 5_000), words: "nothing but zeros"},
		"a lock note":          {name: "~$book.xlsx", data: []byte("\x05owner"), words: "only a note"},
		"larger than any book": {put: func(path string) error { return errorsOf(os.WriteFile(path, good, 0o600), os.Truncate(path, 129<<20)) }, words: "larger than"},
	}
}

// otherKinds are files of another kind.
func otherKinds(t *testing.T, good []byte, p gridtest.Parts) map[string]badFile {
	t.Helper()
	locked, err := excelize.Encrypt(good, &excelize.Options{Password: "wick"})
	if err != nil {
		t.Fatal(err)
	}
	fixture := func(name string) []byte { return []byte(fromTree(t, "testdata/grid/"+name)) }
	return map[string]badFile{
		"an old .xls":                {name: "book.xls", data: fixture("old.xls"), words: "old .xls form"},
		"an old .xls named .xlsx":    {data: fixture("old.xls"), words: "old .xls form"},
		"an .ods":                    {name: "book.ods", data: fixture("open.ods"), words: "OpenDocument"},
		"an .ods named .xlsx":        {data: fixture("open.ods"), words: "OpenDocument"},
		"an .xlsb":                   {name: "book.xlsb", data: p.Change(gridtest.Rels, "workbook.xml", "workbook.bin").Zip(), words: "binary book"},
		"a text document":            {name: "book.docx", data: p.Change(gridtest.Rels, "xl/workbook.xml", "word/document.xml").Zip(), words: "packed like a book but holds none"},
		"another archive":            {name: "book.7z", data: gridtest.Parts{}.With("notes.txt", "x").Zip(), words: "packed like a book but holds none"},
		"an archive without a part":  {data: gridtest.Parts{}.Zip(), words: "packed like a book but holds none"},
		"a PDF":                      {data: []byte("%PDF-1.7\n%\xe2\xe3\n"), words: "this is a PDF"},
		"a picture":                  {data: []byte("\x89PNG\r\n\x1a\n\x00\x00"), words: "this is a picture"},
		"a web page named .xls":      {name: "book.xls", data: []byte("<html><table><tr><td>1"), words: "web page"},
		"a web page named .xlsx":     {data: []byte("<!DOCTYPE html>\n<html>"), words: "web page"},
		"XML named .xlsx":            {data: []byte(`<?xml version="1.0"?><Workbook/>`), words: "an XML file"},
		"values named .xlsx":         {data: []byte("Date,Qty\n2026-10-31,3\n"), words: "plain text file"},
		"a program":                  {data: []byte("\x7fELF\x02\x01\x01\x00\x00"), words: "neither a book nor a text file"},
		"a compound file":            {data: []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 and nothing"), words: "neither a book nor a text file"},
		"a password":                 {data: locked, words: "protected by a password"},
		"a .csv with a quote open":   {name: "book.csv", data: []byte("a,b\n\"1,2\n"), words: "line 2"},
		"a .csv of other bytes":      {name: "book.csv", data: []byte("a,b\x00\x01"), words: "neither a book nor a text file"},
		"a .csv of too many columns": {name: "book.csv", data: []byte("a\n" + strings.Repeat(",", 20_000) + "1\n"), words: "more than 16384 values"},
	}
}

func errorsOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

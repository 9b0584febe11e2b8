package grid

import (
	"bytes"
	"encoding/binary"
	"unicode/utf16"
)

// What a file's bytes are: isZip and isText are gone on with, the others are
// keys of faults.
const (
	isZip  = "zip"
	isText = "text"
)

// oleHead starts the compound files of older office programs ([MS-CFB] 2.2).
var oleHead = []byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}

// sniff tells what the bytes of a file are.
func sniff(data []byte) string {
	head := bytes.TrimLeft(data[:min(len(data), 1024)], "\xef\xbb\xbf \t\r\n")
	low := bytes.ToLower(head)
	switch {
	case bytes.HasPrefix(data, []byte("PK")) && len(data) > 3 && data[2] < 9 && data[3] < 9:
		return isZip
	case bytes.HasPrefix(data, oleHead):
		return sniffOLE(data)
	case bytes.HasPrefix(low, []byte("<!doctype html")), bytes.HasPrefix(low, []byte("<html")), bytes.HasPrefix(low, []byte("<table")):
		return "html"
	case bytes.HasPrefix(low, []byte("<?xml")):
		return "xml"
	case bytes.HasPrefix(head, []byte("%PDF")):
		return "pdf"
	case bytes.HasPrefix(data, []byte("\xff\xd8\xff")), bytes.HasPrefix(data, []byte("\x89PNG")), bytes.HasPrefix(data, []byte("GIF8")):
		return "picture"
	case allZero(data):
		return "zeros"
	case !looksLikeText(data):
		return "unknown"
	}
	return isText
}

func sniffOLE(data []byte) string {
	names := func(s string) bool {
		var b []byte
		for _, u := range utf16.Encode([]rune(s)) {
			b = binary.LittleEndian.AppendUint16(b, u)
		}
		return bytes.Contains(data, b)
	}
	switch {
	case names("EncryptedPackage"):
		return "encrypted"
	case names("Workbook"), names("Book"):
		return "old-xls"
	}
	return "unknown"
}

func allZero(data []byte) bool { return len(bytes.Trim(data, "\x00")) == 0 }

// looksLikeText reports whether the first bytes may be text: no control
// characters, except the zeros of UTF-16.
func looksLikeText(data []byte) bool {
	head := data[:min(len(data), 8192)]
	utf16 := encodingOf(data) == utf16LE || encodingOf(data) == utf16BE
	for _, c := range head {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != 0x1a && !utf16 {
			return false
		}
	}
	return true
}

package grid

import (
	"bytes"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// The encodings of text files, as they are named to the maker.
const (
	utf8Text    = "UTF-8"
	utf16LE     = "UTF-16LE"
	utf16BE     = "UTF-16BE"
	windows1252 = "Windows-1252"
)

// encodingOf tells how a text is stored: by its byte order mark, by the zeros
// of UTF-16, by whether it is UTF-8, else as Windows wrote it.
func encodingOf(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return utf16LE
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return utf16BE
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		return utf8Text
	}
	head := data[:min(len(data), 4096)]
	switch even, odd := zeros(head); {
	case 4*odd >= len(head) && even == 0:
		return utf16LE
	case 4*even >= len(head) && odd == 0:
		return utf16BE
	}
	if good, bad := sequences(data); bad == 0 || good > bad {
		return utf8Text
	}
	return windows1252
}

func zeros(data []byte) (even, odd int) {
	for i, b := range data {
		switch {
		case b != 0:
		case i%2 == 0:
			even++
		default:
			odd++
		}
	}
	return even, odd
}

// sequences counts the characters beyond ASCII that are whole UTF-8, and the
// bytes that are not.
func sequences(data []byte) (good, bad int) {
	if utf8.Valid(data) {
		return 1, 0
	}
	for len(data) > 0 {
		r, n := utf8.DecodeRune(data)
		switch {
		case r == utf8.RuneError && n == 1:
			bad++
		case n > 1:
			good++
		}
		data = data[n:]
	}
	return good, bad
}

// decodeText is the text of a file as UTF-8 without a mark, and its encoding.
// Bytes that the encoding does not know are a fault that names the line.
func decodeText(data []byte) (text, name string, err error) {
	name = encodingOf(data)
	var e encoding.Encoding
	switch name {
	case utf8Text:
		data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
		if i := invalidAt(data); i >= 0 {
			return "", "", fault("bad-encoding", nil, "line", lineAt(data, i), "encoding", name)
		}
		return string(data), name, nil
	case utf16LE:
		e = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case utf16BE:
		e = unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	default:
		e = charmap.Windows1252
	}
	if mark := map[string]string{utf16LE: "\xff\xfe", utf16BE: "\xfe\xff"}[name]; !bytes.HasPrefix(data, []byte(mark)) {
		data = append([]byte(mark), data...)
	}
	out, err := e.NewDecoder().Bytes(data)
	if err != nil {
		return "", "", fault("bad-encoding", err, "line", 1, "encoding", name)
	}
	if i := bytes.IndexRune(out, utf8.RuneError); i >= 0 {
		return "", "", fault("bad-encoding", nil, "line", lineAt(out, i), "encoding", name)
	}
	return string(out), name, nil
}

func invalidAt(data []byte) int {
	for i := 0; i < len(data); {
		if data[i] < utf8.RuneSelf {
			i++
			continue
		}
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// lineAt is the number of the line in which a byte stands, from 1.
func lineAt(data []byte, i int) int {
	head := data[:i]
	return 1 + bytes.Count(head, []byte("\n")) + bytes.Count(head, []byte("\r")) - bytes.Count(head, []byte("\r\n"))
}

package report

import (
	"bufio"
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"

	"pourbook/compute/together"
	"pourbook/report/words"
)

// JSON writes a result, a struct whose fields have names in JSON and whose lists are
// plain ones, with its problems, indented, keys in the order of the schema. The error
// is that of encoding it or of writing.
func JSON(w io.Writer, result any, problems []words.Problem) error {
	s := reflect.Indirect(reflect.ValueOf(result))
	if s.Kind() != reflect.Struct {
		return fmt.Errorf("%T has no fields", result)
	}
	o := object{out: bufio.NewWriterSize(w, 1<<16)}
	for i := range o.pieces {
		o.pieces[i].encoder = json.NewEncoder(&o.pieces[i].text)
	}
	o.fields(s)
	o.fields(reflect.ValueOf(struct {
		Problems []words.Problem `json:"problems"`
	}{problems}))
	if err := cmp.Or(o.pieces[0].err, o.pieces[1].err); err != nil {
		return err
	}
	o.out.WriteString("\n}\n")
	return o.out.Flush()
}

// object writes an object, of its lists some elements at a time: of one of thousands
// the library would hold the whole text, more than once.
type object struct {
	out    *bufio.Writer
	pieces [2]piece // encoded at the same time
	begun  bool
}

// piece is some text of the object.
type piece struct {
	encoder *json.Encoder // to text
	text    bytes.Buffer
	err     error // of encoding; that of writing is the object's
}

// some is how many elements of a list a piece has at most.
const some = 256

func (o *object) fields(s reflect.Value) {
	for i := range s.NumField() {
		switch f, x := s.Type().Field(i), s.Field(i); {
		case !f.IsExported() || f.Tag.Get("json") == "-":
		case f.Type.Kind() == reflect.Slice && x.Len() > 0:
			o.list(f, x)
		default:
			o.field(f, x)
		}
	}
}

func (o *object) list(f reflect.StructField, list reflect.Value) {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	o.begin()
	fmt.Fprintf(o.out, "%q: [", name)
	n := list.Len()
	for i := 0; i < n; i += 2 * some {
		middle := min(i+some, n)
		together.Run(
			func() { o.pieces[0].elements(list, i, middle) },
			func() { o.pieces[1].elements(list, middle, min(middle+some, n)) })
		for i := range o.pieces {
			o.pieces[i].text.WriteTo(o.out)
		}
	}
	o.out.WriteString("\n  ]")
}

// elements are those of a list from one index up to another, which is not written.
func (p *piece) elements(list reflect.Value, from, to int) {
	p.text.Reset()
	for i := from; i < to; i++ {
		p.text.WriteString([]string{"\n    ", ",\n    "}[min(i, 1)])
		p.encode("    ", list.Index(i).Addr().Interface())
	}
}

// field has the library encode a struct of the field alone, which leaves it out as
// its tag asks.
func (o *object) field(f reflect.StructField, x reflect.Value) {
	alone := reflect.New(reflect.StructOf([]reflect.StructField{f})).Elem()
	alone.Field(0).Set(x)
	p := &o.pieces[0]
	p.text.Reset()
	p.encode("", alone.Addr().Interface())
	if text, ok := bytes.CutPrefix(p.text.Bytes(), []byte("{\n  ")); ok {
		o.begin()
		o.out.Write(bytes.TrimSuffix(text, []byte("\n}")))
	}
}

func (o *object) begin() {
	if o.begun {
		o.out.WriteString(",\n  ")
	} else {
		o.out.WriteString("{\n  ")
	}
	o.begun = true
}

// encode adds the text of v, whose further lines begin with the prefix.
func (p *piece) encode(prefix string, v any) {
	p.encoder.SetIndent(prefix, "  ")
	if err := p.encoder.Encode(v); p.err == nil {
		p.err = err
	}
	p.text.Truncate(max(p.text.Len()-1, 0)) // the library ends a line
}

package report

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"

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
	o.encoder = json.NewEncoder(&o.text)
	o.fields(s)
	o.fields(reflect.ValueOf(struct {
		Problems []words.Problem `json:"problems"`
	}{problems}))
	if o.err != nil {
		return o.err
	}
	o.out.WriteString("\n}\n")
	return o.out.Flush()
}

// object writes an object, of its lists an element at a time: of one of thousands
// the library would hold the whole text, more than once.
type object struct {
	out     *bufio.Writer
	encoder *json.Encoder // to text
	text    bytes.Buffer
	begun   bool
	err     error // of encoding; that of writing is out's
}

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
	for i := range list.Len() {
		o.out.WriteString([]string{"\n    ", ",\n    "}[min(i, 1)])
		o.out.Write(o.encode("    ", list.Index(i).Addr().Interface()))
	}
	o.out.WriteString("\n  ]")
}

// field has the library encode a struct of the field alone, which leaves it out as
// its tag asks.
func (o *object) field(f reflect.StructField, x reflect.Value) {
	alone := reflect.New(reflect.StructOf([]reflect.StructField{f})).Elem()
	alone.Field(0).Set(x)
	text, ok := bytes.CutPrefix(o.encode("", alone.Addr().Interface()), []byte("{\n  "))
	if ok {
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

// encode is the text of v, which holds until the next; its further lines begin with
// the prefix.
func (o *object) encode(prefix string, v any) []byte {
	o.text.Reset()
	o.encoder.SetIndent(prefix, "  ")
	if err := o.encoder.Encode(v); o.err == nil {
		o.err = err
	}
	return bytes.TrimSuffix(o.text.Bytes(), []byte("\n"))
}

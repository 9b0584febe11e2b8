package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"

	"pourbook/compute/together"
	"pourbook/report/words"
)

// JSON writes a result with its problems, indented, keys in the order of the
// schema. The result must encode as an object. The error is that of encoding it
// or of writing.
func JSON(w io.Writer, result any, problems []words.Problem) error {
	all := append(partsOf(result), struct {
		Problems []words.Problem `json:"problems"`
	}{problems})
	texts, faults := make([][]byte, len(all)), make([]error, len(all))
	var encode []func()
	for i, part := range all {
		encode = append(encode, func() { texts[i], faults[i] = members(part) })
	}
	together.Run(func() {}, encode...)
	if err := errors.Join(faults...); err != nil {
		return err
	}
	texts = slices.DeleteFunc(texts, func(t []byte) bool { return len(t) == 0 })
	for _, text := range [][]byte{[]byte("{"), bytes.Join(texts, []byte(",")), []byte("\n}\n")} {
		if _, err := w.Write(text); err != nil {
			return err
		}
	}
	return nil
}

// partsOf are objects whose members are those of a result: one for each of its
// fields, which then encode at the same time.
func partsOf(result any) []any {
	v := reflect.Indirect(reflect.ValueOf(result))
	if _, own := result.(json.Marshaler); own || v.Kind() != reflect.Struct {
		return []any{result}
	}
	var out []any
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.IsExported() && f.Tag.Get("json") != "-" {
			part := reflect.New(reflect.StructOf([]reflect.StructField{f})).Elem()
			part.Field(0).Set(v.Field(i))
			out = append(out, part.Interface())
		}
	}
	return out
}

// members are those of an object, each on lines of its own; nothing for none.
func members(object any) ([]byte, error) {
	body, err := json.Marshal(object)
	if err != nil {
		return nil, err
	}
	if !bytes.HasPrefix(body, []byte("{")) {
		return nil, fmt.Errorf("%s is no object", body)
	}
	var out bytes.Buffer
	if err := json.Indent(&out, body, "", "  "); err != nil {
		return nil, err
	}
	text := out.Bytes()
	return bytes.TrimSuffix(text[1:len(text)-1], []byte("\n")), nil
}

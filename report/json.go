package report

import (
	"bytes"
	"encoding/json"
	"io"

	"pourbook/report/words"
)

// JSON writes a result with its problems, indented, keys in the order of the
// schema. The result must encode as an object. The error is that of encoding it
// or of writing.
func JSON(w io.Writer, result any, problems []words.Problem) error {
	body, err := json.Marshal(result)
	if err != nil {
		return err
	}
	list, err := json.Marshal(problems)
	if err != nil {
		return err
	}
	body = bytes.TrimSuffix(body, []byte("}"))
	if len(body) > 1 {
		body = append(body, ',')
	}
	body = append(append(append(body, `"problems":`...), list...), '}')
	var out bytes.Buffer
	if err := json.Indent(&out, body, "", "  "); err != nil {
		return err
	}
	out.WriteByte('\n')
	_, err = out.WriteTo(w)
	return err
}

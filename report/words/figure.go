package words

import (
	"strconv"

	"pourbook/compute/calc"
	"pourbook/templates"
)

// SettingKey is the key of an input that is a setting; what it is of is the
// setting's name.
const SettingKey = "setting"

// Figure is what a figure is, in words.
func Figure(f *calc.Figure) string {
	n := f.Name()
	args := make([]any, 0, 2*len(n.Of))
	for i, o := range n.Of {
		args = append(args, strconv.Itoa(i), o)
	}
	return templates.Text("figure."+n.Key, args...)
}

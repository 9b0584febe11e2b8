package words

import (
	"strconv"
	"strings"

	"pourbook/compute/calc"
	"pourbook/templates"
)

// SettingKey is the key of an input that is a setting; what it is of is the
// setting's name.
const SettingKey = "setting"

// Figure is what a figure is, in words.
func Figure(f *calc.Figure) string { return Named(f.Name()) }

// Named is what a figure of a name is, in words.
func Named(n calc.Name) string {
	args := make([]any, 0, 2*len(n.Of))
	for i, o := range n.Of {
		args = append(args, strconv.Itoa(i), o)
	}
	text := templates.Text("figure."+n.Key, args...)
	if len(n.Of) > 0 && n.Of[0] == "" { // totals
		text = strings.Replace(text, " ,", ",", 1)
	}
	return text
}

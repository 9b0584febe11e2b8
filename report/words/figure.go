package words

import (
	"fmt"
	"strings"

	"pourbook/compute/calc"
	"pourbook/templates"
)

// SettingKey begins the key of an input that is a setting, whose own name
// follows.
const SettingKey = "setting."

// Figure is what a figure is, in words.
func Figure(f *calc.Figure) string {
	n := f.Name()
	if name, ok := strings.CutPrefix(n.Key, SettingKey); ok {
		return name
	}
	args := make([]any, 0, 2*len(n.Of))
	for i, o := range n.Of {
		args = append(args, fmt.Sprint(i), o)
	}
	return templates.Text("figure."+n.Key, args...)
}

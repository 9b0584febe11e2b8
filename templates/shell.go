package templates

import "embed"

//go:embed shell/*.txt
var shells embed.FS

// Completion is the script that makes a shell (bash, zsh or fish) complete the
// words of a command line; empty for any other.
func Completion(shell string) string {
	text, _ := shells.ReadFile("shell/" + shell + ".txt")
	return string(text)
}

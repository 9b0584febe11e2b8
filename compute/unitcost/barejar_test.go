package unitcost

import (
	"testing"

	"pourbook/compute/book"
	"pourbook/compute/cell"
	"pourbook/compute/problem"
)

func TestBareJarsAreToldOnce(t *testing.T) {
	jar := func(name string, parts ...book.Part) *book.Jar {
		return &book.Jar{Name: cell.Text{V: name, At: cell.Ref{Sheet: "Jars", Row: 4, Col: 1}}, Parts: parts}
	}
	bare, whole := jar("Tin"), jar("Tumbler", book.Part{})
	var found problem.List
	NoteBareJars(&found, []*book.Product{{Jar: bare}, {Jar: whole}, {Jar: bare}, {}})
	all := found.Sorted()
	if len(all) != 1 || all[0].Say != "jar-parts" || all[0].Severity != problem.Warning || all[0].Args[1] != "Tin" {
		t.Errorf("found %v", all)
	}
}

// Mutate breaks the program's formulas one at a time and tells which checks see
// it: go run ./.ci/mutate [-run TEXT] [-untried] [-jobs 2], -list or -check.
//
// The checkout is not touched: broken files stand in for the whole ones by an
// overlay of the go command. -check only holds the table to the code and to
// DEVELOPERS.md.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
)

func main() {
	name := flag.String("run", "", "only mutations whose name or text holds this")
	jobs := flag.Int("jobs", 2, "mutations at a time")
	left := flag.Bool("untried", false, "only mutations not tried yet")
	list := flag.Bool("list", false, "list the mutations")
	check := flag.Bool("check", false, "hold the table to the code and to DEVELOPERS.md")
	flag.Parse()
	log.SetFlags(0)
	if err := stale(mutations); err != nil {
		log.Fatal(err)
	}
	wanted := slices.DeleteFunc(slices.Clone(mutations), func(m mutation) bool {
		return *left && !m.untried || !strings.Contains(m.name+" "+m.old+" "+m.put, *name)
	})
	switch {
	case *check:
		if err := told("DEVELOPERS.md", mutations); err != nil {
			log.Fatal(err)
		}
	case *list:
		for _, m := range wanted {
			fmt.Printf("%s  %s: %s -> %s  (%s)\n", m.name, m.file, oneLine(m.old), oneLine(m.put), m.seen())
		}
	default:
		if err := run(wanted, *jobs); err != nil {
			log.Fatal(err)
		}
	}
}

// mutation is one change of a formula: old, which occurs once in file, becomes
// put. Outside checks are tried in their order, then the packages' own tests.
type mutation struct {
	name, file, old, put string
	outside, own         []test
	survives             string // why no test sees it
	untried              bool
}

// test is a package and the tests of it to run; an empty run is all of them.
type test struct{ pkg, run string }

func (t test) String() string { return strings.TrimSpace(t.pkg + " " + t.run) }

// The kinds of checks that see a mutation, best first.
const (
	byOutside = "outside check"
	byOwn     = "own tests only"
	byNone    = "survives"
	notTried  = "not tried yet"
)

func (m mutation) seen() string {
	switch {
	case m.untried:
		return notTried
	case len(m.outside) > 0:
		return byOutside
	case len(m.own) > 0:
		return byOwn
	}
	return byNone
}

// stale finds mutations whose old text does not occur exactly once.
func stale(all []mutation) error {
	for _, m := range all {
		text, err := os.ReadFile(m.file)
		if err != nil {
			return err
		}
		if n := strings.Count(string(text), m.old); n != 1 || m.old == m.put {
			return fmt.Errorf("%s: %q occurs %d times in %s", m.name, m.old, n, m.file)
		}
		if (m.seen() == byNone) != (m.survives != "") {
			return fmt.Errorf("%s: %q has tests and a reason to survive, or neither", m.name, m.old)
		}
	}
	return nil
}

// told holds a document to the numbers of mutations, and to the names of those
// that no outside check sees.
func told(path string, all []mutation) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	n, formulas := map[string]int{}, map[string]bool{}
	for _, m := range all {
		n[m.seen()]++
		formulas[m.name] = true
		if (m.seen() == byOwn || m.seen() == byNone) && !strings.Contains(string(text), m.name) {
			return fmt.Errorf("%s does not name %q: %s", path, m.name, m.seen())
		}
	}
	for _, want := range []string{
		fmt.Sprintf("%d mutations of %d formulas", len(all), len(formulas)), fmt.Sprintf("%d by an outside check", n[byOutside]),
		fmt.Sprintf("%d by own tests only", n[byOwn]), fmt.Sprintf("%d survive", n[byNone]), fmt.Sprintf("%d not tried yet", n[notTried]),
	} {
		if !strings.Contains(string(text), want) {
			return fmt.Errorf("%s does not say %q", path, want)
		}
	}
	return nil
}

// run tries mutations and prints what sees them; an error tells that the table
// expects otherwise of any.
func run(all []mutation, jobs int) error {
	dir, err := os.MkdirTemp("", "pourbook-mutate")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	b, err := newBench(dir, all)
	if err != nil {
		return err
	}
	var mu sync.Mutex
	var group sync.WaitGroup
	room := make(chan bool, max(1, jobs))
	seen, wrong := map[string]int{}, 0
	for i, m := range all {
		room <- true
		group.Go(func() {
			defer func() { <-room }()
			start := time.Now()
			got, by, err := b.try(i)
			mu.Lock()
			defer mu.Unlock()
			seen[got]++
			note := ""
			if err != nil || got != m.seen() && !m.untried {
				wrong++
				note = "  NOT AS EXPECTED: " + m.seen()
			}
			if err != nil {
				note += ", " + err.Error()
			}
			fmt.Printf("%-30s %-14s %s -> %s  %s (%.0f s)%s\n", m.name, got, oneLine(m.old), oneLine(m.put), by, time.Since(start).Seconds(), note)
		})
	}
	group.Wait()
	fmt.Printf("%d mutations: %d seen by an outside check, %d by own tests only, %d survive\n", len(all), seen[byOutside], seen[byOwn], seen[byNone])
	if wrong > 0 {
		return fmt.Errorf("%d not as expected", wrong)
	}
	return nil
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

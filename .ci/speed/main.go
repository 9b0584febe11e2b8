// Speed times whole runs of pourbook on made-up books, beside what the time is
// held against, in alternating runs: go run ./.ci/speed [-rows 1048575] [-runs 5]
//
// It prints medians, and ratios to unzipping the sheet with the standard library.
package main

import (
	"cmp"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"syscall"
	"time"
)

func main() {
	rows := flag.Int("rows", 1_048_575, "lines of sales of the large books")
	runs := flag.Int("runs", 5, "runs of each")
	flag.Parse()
	if flag.NArg() == 2 {
		if err := yardsticks[flag.Arg(0)](flag.Arg(1)); err != nil {
			log.Fatal(err)
		}
		return
	}
	dir, err := os.MkdirTemp("", "pourbook-speed")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "pourbook")
	build(program, "./cmd/pourbook")
	big := filepath.Join(dir, "bigbook")
	build(big, "./.ci/bigbook")
	t := &timer{dir: dir, program: program, big: big, runs: *runs}
	t.small()
	t.large(*rows)
}

func build(to, from string) {
	out, err := exec.Command("go", "build", "-o", to, from).CombinedOutput()
	if err != nil {
		log.Fatalf("%s: %v\n%s", from, err, out)
	}
}

// timer runs programs and keeps what they took.
type timer struct {
	dir, program, big string
	runs              int
}

// run is a command line with what it is called.
type run struct {
	name string
	args []string
}

// book makes a book and is its path.
func (t *timer) book(name string, rows int, flags ...string) string {
	path := filepath.Join(t.dir, name+".xlsx")
	args := append([]string{"-rows", strconv.Itoa(rows)}, flags...)
	if out, err := exec.Command(t.big, append(args, path)...).CombinedOutput(); err != nil {
		log.Fatalf("%v\n%s", err, out)
	}
	return path
}

func (t *timer) cost(book string) []string {
	return []string{t.program, "cost", "--json", "--no-documents", "--month", "2026-10", book}
}

func (t *timer) documents(book string) []string {
	return []string{t.program, "cost", "--month", "2026-10", "--out", filepath.Join(t.dir, "out"), book}
}

func (t *timer) yardstick(what, book string) []string {
	self, err := os.Executable()
	if err != nil {
		log.Fatal(err)
	}
	return []string{self, what, book}
}

func (t *timer) small() {
	book := t.book("small", 2_000)
	t.compare("2,000 lines", []run{
		{"pourbook --help", []string{t.program, "--help"}}, {"cost --json", t.cost(book)}, {"cost, PDF and workbook", t.documents(book)},
	})
}

func (t *timer) large(rows int) {
	plain := t.book("plain", rows)
	all := []run{
		{"inflate", t.yardstick("inflate", plain)},
		{"cost --json", t.cost(plain)},
		{"cost, PDF and workbook", t.documents(plain)},
		{"half the lines", t.cost(t.book("half", rows/2))},
		{"a tenth of the lines", t.cost(t.book("tenth", rows/10))},
		{"1,000 products", t.cost(t.book("products", rows, "-products", "1000"))},
		{"200 seasons", t.cost(t.book("seasons", rows, "-seasons", "200"))},
	}
	for _, shape := range []string{"blank", "inline", "odd", "orders", "random"} {
		all = append(all, run{shape, t.cost(t.book(shape, rows, "-shape", shape))})
	}
	if csv := t.csv(plain); csv != "" {
		all = append(all, run{"sqlite3, the same as .csv", []string{
			"sqlite3", ":memory:", ".mode csv", ".import " + csv + " sales",
			"SELECT Product, Channel, substr(Date,1,7), sum(Quantity), sum(Quantity*\"Unit price\"-Discount) FROM sales GROUP BY 1,2,3",
		}})
	}
	t.compare(fmt.Sprint(rows, " lines"), all)
	t.once("excelize, row by row", t.yardstick("excelize", plain))
}

// took is what a run took.
type took struct {
	wall, processor time.Duration
	memory          int64 // KB
}

func (t *timer) once(name string, args []string) took {
	c := exec.Command(args[0], args[1:]...)
	start := time.Now()
	if err := c.Run(); err != nil && c.ProcessState.ExitCode() != 1 { // 1: there are problems
		log.Fatalf("%s: %v", name, err)
	}
	p := c.ProcessState
	x := took{time.Since(start), p.UserTime() + p.SystemTime(), p.SysUsage().(*syscall.Rusage).Maxrss}
	if t.runs == 1 || name == "excelize, row by row" {
		fmt.Printf("%-28s %8.3f s %8.3f s of processor %5d MB\n", name, x.wall.Seconds(), x.processor.Seconds(), x.memory>>10)
	}
	return x
}

// compare runs everything in turns and prints the medians.
func (t *timer) compare(title string, all []run) {
	fmt.Println(title)
	found := make([][]took, len(all))
	for range t.runs {
		for i, r := range all {
			found[i] = append(found[i], t.once(r.name, r.args))
		}
	}
	base := median(found[0], func(x took) time.Duration { return x.wall })
	for i, r := range all {
		wall := median(found[i], func(x took) time.Duration { return x.wall })
		fmt.Printf("%-28s %8.3f s %8.3f s of processor %5d MB %6.2f x\n", r.name, wall.Seconds(),
			median(found[i], func(x took) time.Duration { return x.processor }).Seconds(),
			median(found[i], func(x took) int64 { return x.memory })>>10, wall.Seconds()/base.Seconds())
	}
}

func median[T cmp.Ordered](all []took, of func(took) T) T {
	var v []T
	for _, x := range all {
		v = append(v, of(x))
	}
	slices.Sort(v)
	return v[len(v)/2]
}

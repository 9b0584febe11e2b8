package main

import (
	"fmt"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"pourbook/report"
	"pourbook/report/demo"
	"pourbook/report/file"
	"pourbook/templates"
)

// demoJar is the new jar size that the demo prices.
var demoJar = []string{
	"--jar", "Candle bowl 20 oz", "--fill", "16 oz", "--part", "jar=4.10", "--part", "wick=0.36", "--part", "lid=1.15", "--part", "label=0.24",
}

func demoCommand(std streams) *cli.Command {
	return command("demo", []cli.Flag{str(flagPaper)}, func(c *cli.Context) error {
		if c.NArg() > 1 {
			return usagef("cli.too-many", "what", c.Args().Get(1), "usage", c.Command.UsageText)
		}
		dir := "pourbook-demo"
		if c.NArg() == 1 {
			dir = c.Args().First()
		}
		return writeDemo(c, std, dir)
	})
}

// writeDemo writes the demo book and runs the three jobs on it, as commands
// that anyone can repeat.
func writeDemo(c *cli.Context, std streams, dir string) error {
	book := filepath.Join(dir, "demo.xlsx")
	data, err := report.DemoBook()
	if err != nil {
		return err
	}
	if err := file.Write(c.Context, []file.Output{{Path: book, Data: data}}, nil); err != nil {
		return unwritten{err, "demo"}
	}
	std.wrote()
	fmt.Fprintln(std.out, templates.Text("demo.book", "path", book))
	for _, args := range [][]string{
		{"cost", book, "--month", demo.Month}, {"plan", book}, append([]string{"price", book}, demoJar...),
	} {
		args = append(args, "--today", demo.Today.String())
		if p := c.String(flagPaper); p != "" {
			args = append(args, "--paper", p)
		}
		fmt.Fprintf(std.out, "\n$ pourbook %s\n", quoteAll(args))
		app := newApp(std)
		if err := app.RunContext(c.Context, flagsFirst(app, append([]string{"pourbook"}, args...))); err != nil {
			return err
		}
	}
	fmt.Fprintln(std.out, "\n"+templates.Text("demo.next", "book", quoteAll([]string{book})))
	return nil
}

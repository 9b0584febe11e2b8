package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"pourbook/report"
	"pourbook/report/file"
	"pourbook/report/words"
	"pourbook/templates"
)

func starterCommand(std streams) *cli.Command {
	return command("starter", []cli.Flag{yes("minimal")}, func(c *cli.Context) error {
		if err := wantArgs(c, 1); err != nil {
			return err
		}
		path := c.Args().First()
		if ext := filepath.Ext(path); !strings.EqualFold(ext, ".xlsx") {
			return usagef("starter.name", "example", strings.TrimSuffix(path, ext)+".xlsx")
		}
		switch _, err := os.Lstat(path); {
		case err == nil:
			return errors.New(words.Plain(templates.Text("starter.exists", "path", path)))
		case !errors.Is(err, fs.ErrNotExist):
			return err
		}
		data, tables, err := report.StarterBook(c.Bool("minimal"))
		if err != nil {
			return err
		}
		if err := file.Write(c.Context, []file.Output{{Path: path, Data: data}}, nil); err != nil {
			return unwritten{err, "starter"}
		}
		std.wrote()
		j := &job{std: std, c: c}
		return j.print(func(w io.Writer) {
			fmt.Fprintln(w, templates.Text("starter.done", "path", words.Plain(path), "n", tables))
			fmt.Fprintln(w, templates.Text("starter.rows"))
			fmt.Fprintln(w, templates.Text("starter.order"))
			fmt.Fprintln(w, templates.Text("starter.next", "book", quoteAll([]string{words.Plain(path)})))
		})
	})
}

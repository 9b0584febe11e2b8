// Command pourbook reads a candle maker's workbook and writes a costing report,
// a production plan and price sheets.
package main

import (
	"os"
	"runtime/debug"
)

// growth is by how many percent of what is in use the heap grows before it is
// swept: fresh memory costs more than the sweeping of so short a run.
const growth = 50

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(growth)
	}
	ctx, release := untilSignal(os.Exit)
	code := run(ctx, os.Args, streams{in: os.Stdin, out: os.Stdout, err: os.Stderr})
	release()
	os.Exit(code)
}

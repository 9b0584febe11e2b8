// Command pourbook reads a candle maker's workbook and writes a costing report,
// a production plan and price sheets.
package main

import "os"

func main() {
	keepHeap()
	ctx, release := untilSignal(os.Exit)
	code := run(ctx, os.Args, streams{in: os.Stdin, out: os.Stdout, err: os.Stderr})
	release()
	os.Exit(code)
}

//go:build !windows

package grid

import (
	"path/filepath"
	"syscall"
	"testing"
)

func TestPipesAndDevicesAreNotOpened(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "book.xlsx")
	must(t, syscall.Mkfifo(pipe, 0o600))
	for _, path := range []string{pipe, "/dev/null"} {
		if got := keyOf(t, path); got != "special" {
			t.Errorf("%s: fault %q", path, got)
		}
	}
}

//go:build unix

package main

import (
	"os"
	"syscall"
)

// shellStatus is a shell's $?: 128 and the number of the signal that ended it.
func shellStatus(s *os.ProcessState) int {
	if w, ok := s.Sys().(syscall.WaitStatus); ok && w.Signaled() {
		return 128 + int(w.Signal())
	}
	return s.ExitCode()
}

//go:build !unix

package main

import "os"

// shellStatus is the exit status: nothing here ends by a signal.
func shellStatus(s *os.ProcessState) int { return s.ExitCode() }

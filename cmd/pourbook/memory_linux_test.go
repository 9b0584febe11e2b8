package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
)

// peakMemory is the most memory that a running program had at a time, in bytes;
// 0 when it has ended. What the system counts for a program that has ended
// includes the memory of the one that started it (getrusage(2), ru_maxrss).
func peakMemory(pid int) int64 {
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	_, rest, _ := strings.Cut(string(status), "\nVmHWM:")
	line, _, _ := strings.Cut(rest, " kB")
	kb, _ := strconv.ParseInt(strings.TrimSpace(line), 10, 64)
	return kb << 10
}
